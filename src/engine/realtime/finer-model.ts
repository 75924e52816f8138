/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the sizes the arrays were made with */
import {solveInPlace} from "../solve/solve-in-place.ts";
import type {Matrices, Sizes} from "./step-model.ts";

/**
 * Writes into `into` the trapezoidal model of the same circuit whose steps are `times` as short.
 *
 * The equations need not be known for it, only the model: it is quick enough for the sound thread to do between two blocks.
 *
 * Method: storage is as many products of a column and a row as there are memories, so that what it changes in the inverse follows from a
 * matrix no larger than they are (Sherman, Morrison and Woodbury; Golub and Van Loan, Matrix Computations, 2.1.4 [from memory]).
 *
 * @returns false if that matrix is singular: the circuit has then no single solution in steps so short
 */
export function refineInto(into: Matrices, model: Matrices & Sizes, times: number): boolean {
  const {states: n, B, H, C} = model;
  // What the unknowns in the memory answer to it: half of A and 1, by the rule's m' = 2·v − m.
  const half = model.A.map((each, at) => (each + identity(n, at)) / 2);
  const change = half.map((each, at) => (times - 1) * each + identity(n, at));
  const inverse = Float64Array.from(change, (_, at) => times * identity(n, at));
  if (!solveInPlace(n, change, inverse, n)) return false;
  /** What reads the memory by `read`, and signal, rest and laws by `others`, in the finer model; `part` of what it reads is written. */
  const refine = (read: Float64Array, part: number, toRead: Float64Array, others: readonly Pair[]): void => {
    product(toRead, read, inverse, n);
    others.forEach(([from, to], k) => {
      product(to, toRead, [B, H, C][k]!, n);
      for (let at = 0; at < to.length; at++) to[at] = from[at]! - ((times - 1) / times / 2) * part * to[at]!;
    });
  };
  const {D, E, F, K, L, M, O, N} = model;
  refine(D, 1, into.D, [
    [E, into.E],
    [F, into.F],
    [K, into.K],
  ]);
  refine(L, 1, into.L, [
    [M, into.M],
    [O, into.O],
    [N, into.N],
  ]);
  refine(half, 2, into.A, [
    [B, into.B],
    [H, into.H],
    [C, into.C],
  ]);
  for (let at = 0; at < n * n; at++) into.A[at] = 2 * into.A[at]! - identity(n, at);
  return true;
}

type Pair = readonly [from: Float64Array, to: Float64Array];

const identity = (size: number, at: number): number => (at % (size + 1) === 0 ? 1 : 0);

/** into = a·b, row-major; b has `inner` rows. */
function product(into: Float64Array, a: Float64Array, b: Float64Array, inner: number): void {
  const width = b.length / inner;
  for (let at = 0; at < into.length; at++) {
    const [row, column] = [Math.floor(at / width), at % width];
    let sum = 0;
    for (let k = 0; k < inner; k++) sum += a[row * inner + k]! * b[k * width + column]!;
    into[at] = sum;
  }
}
