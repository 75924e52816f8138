/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {Stamps} from "../analysis/stamps.ts";
import {factorComplex, solveComplex} from "../solve/complex-lu.ts";
import {stepModel} from "./derive-step.ts";
import type {PlacedLaw} from "./step-model.ts";

/**
 * What a circuit's linear part answers at one rate z, (G + z·C)⁻¹ read where it matters. Rows: memory, ports, outputs. Columns: memory,
 * signal, what is steady, laws. Row-major.
 */
export type LinearResponse = Readonly<{
  states: number;
  ports: number;
  outputs: number;
  columns: number;
  /** Of one stage. */
  laws: readonly PlacedLaw[];
  /** The rate, per second, that it is known at. */
  perSecond: number;
  values: Float64Array;
}>;

export const rowsOf = ({states, ports, outputs}: LinearResponse): number => states + ports + outputs;
export const columnsOf = ({states, columns}: LinearResponse): number => states + 2 + columns;

/**
 * The response at a real rate.
 *
 * A step of the trapezoidal rule solves G + (2/h)·C, so that its model holds all of it, slopes that loose nodes need included.
 *
 * @throws {CircuitError} if the equations have no single solution
 */
export function linearResponse(equations: Stamps, outputs: readonly number[], perSecond: number): LinearResponse {
  const model = stepModel(equations, outputs, perSecond / 2, "trapezoidal");
  const {states: n, ports: g, outputs: r, columns: c, laws, A, B, H, C, D, E, F, K, L, M, O, N} = model;
  const width = n + 2 + c;
  const values = new Float64Array((n + g + r) * width);
  const put = (first: number, count: number, parts: readonly Float64Array[], times: number): void => {
    for (let row = 0; row < count; row++) {
      let at = (first + row) * width;
      parts.forEach((part) => {
        const each = part.length / count;
        for (let k = 0; k < each; k++) values[at++] = times * part[row * each + k]!;
      });
    }
  };
  // The rule's memory goes in z-fold, and comes out twice less itself.
  put(0, n, [A, B, H, C], 0.5);
  put(n, g, [D, E, F, K], 1);
  put(n + g, r, [L, M, O, N], 1);
  for (let row = 0; row < n; row++) values[row * width + row]! += 0.5;
  for (let row = 0; row < n + g + r; row++) for (let k = 0; k < n; k++) values[row * width + k]! /= perSecond;
  return {states: n, ports: g, outputs: r, columns: c, laws, perSecond, values};
}

/**
 * The response at another rate, real or complex, from that at `known`.
 *
 * Method: C is as many products of a column and a row as the circuit has memories, so that the change of the inverse follows from a
 * matrix no larger than they are (Sherman, Morrison and Woodbury; Golub and Van Loan, Matrix Computations, 2.1.4 [from memory]).
 */
export function responseAt(known: LinearResponse, re: number, im: number): Readonly<Record<"re" | "im", Float64Array>> {
  const {states: n, values, perSecond} = known;
  const [rows, width] = [rowsOf(known), columnsOf(known)];
  const kRe = re - perSecond;
  const kIm = im;
  const mRe = new Float64Array(n * n);
  const mIm = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      mRe[i * n + j] = (i === j ? 1 : 0) + kRe * values[i * width + j]!;
      mIm[i * n + j] = kIm * values[i * width + j]!;
    }
  }
  const order = new Int32Array(n);
  factorComplex(n, mRe, mIm, order);
  const inverseRe = new Float64Array(n * n);
  const inverseIm = new Float64Array(n * n);
  const one = new Float64Array(n);
  const none = new Float64Array(n);
  const xRe = new Float64Array(n);
  const xIm = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    one.fill(0);
    one[j] = 1;
    solveComplex(n, mRe, mIm, order, one, none, xRe, xIm);
    for (let i = 0; i < n; i++) {
      inverseRe[i * n + j] = xRe[i]!;
      inverseIm[i * n + j] = xIm[i]!;
    }
  }
  const outRe = new Float64Array(rows * width);
  const outIm = new Float64Array(rows * width);
  for (let row = 0; row < rows; row++) {
    const at = row * width;
    for (let j = 0; j < n; j++) {
      const value = values[at + j]!;
      for (let k = 0; k < n; k++) {
        outRe[at + k]! += value * inverseRe[j * n + k]!;
        outIm[at + k]! += value * inverseIm[j * n + k]!;
      }
    }
    for (let k = n; k < width; k++) outRe[at + k] = values[at + k]!;
    for (let j = 0; j < n; j++) {
      const pRe = kRe * outRe[at + j]! - kIm * outIm[at + j]!;
      const pIm = kRe * outIm[at + j]! + kIm * outRe[at + j]!;
      for (let k = n; k < width; k++) {
        const value = values[j * width + k]!;
        outRe[at + k]! -= pRe * value;
        outIm[at + k]! -= pIm * value;
      }
    }
  }
  return {re: outRe, im: outIm};
}
