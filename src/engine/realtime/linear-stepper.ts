/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import type {Stamps} from "../analysis/stamps.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import {factorReal, solveReal} from "../solve/real-lu.ts";

/** A linear circuit reduced to what a step needs: s' = A·s + B·u, y = L·s + M·u. */
export type LinearStepper = Readonly<{
  /** How many numbers the circuit remembers. */
  states: number;
  A: Float64Array;
  B: Float64Array;
  L: Float64Array;
  M: number;
}>;

/**
 * The circuit as a stepping model for the deviation from rest: one step a sample of `sampleRateHz`, signal in, one
 * unknown of the solution out.
 *
 * Each storage element becomes a conductance and a memory, J = (2/h)·C·x + C·x'. With K = G + (2/h)·C a step solves
 * K·x = b·u + J and remembers J' = (4/h)·C·x − J. Only rows that store anything are kept, so the size is that of the
 * circuit's memory and not of its nodes.
 *
 * Method: trapezoidal rule as companion models, Nagel, UCB/ERL M520 (1975) [cited from memory].
 *
 * @throws {CircuitError} if the equations have no single solution
 */
export function linearStepper(
  {size, conductance, storage, signal}: Stamps,
  output: number,
  sampleRateHz: number,
): LinearStepper {
  const twoOverH = 2 * sampleRateHz;
  const dense = new Float64Array(size * size);
  const add = ({rows, columns, values}: Stamps["storage"], factor: number) => {
    for (let k = 0; k < values.length; k++) dense[rows[k]! * size + columns[k]!]! += factor * values[k]!; // inside by construction
  };
  add(conductance, 1);
  add(storage, twoOverH);
  const order = new Int32Array(size);
  if (factorReal(size, dense, order) >= 0) throw new CircuitError("the circuit has no single solution in time");
  const column = (drive: Float64Array) => {
    const x = new Float64Array(size);
    solveReal(size, dense, order, drive, x);
    return x;
  };

  const kept = [...new Set(storage.rows)].sort((a, b) => a - b);
  const states = kept.length;
  const stored = (x: Float64Array): Float64Array => {
    const sums = new Float64Array(size);
    for (let k = 0; k < storage.values.length; k++)
      sums[storage.rows[k]!]! += storage.values[k]! * x[storage.columns[k]!]!;
    return Float64Array.from(kept, (row) => 2 * twoOverH * sums[row]!);
  };

  const A = new Float64Array(states * states);
  const L = new Float64Array(states);
  kept.forEach((row, k) => {
    const unit = new Float64Array(size);
    unit[row] = 1;
    const x = column(unit);
    stored(x).forEach((value, i) => (A[i * states + k] = value - (i === k ? 1 : 0)));
    L[k] = x[output] ?? 0;
  });
  const x = column(signal);
  return {states, A, B: stored(x), L, M: x[output] ?? 0};
}

/** Runs the model over a signal from rest, in place of `y`. The loop allocates nothing. */
export function stepThrough({states, A, B, L, M}: LinearStepper, u: Float64Array, y: Float64Array): void {
  let s = new Float64Array(states);
  let next = new Float64Array(states);
  for (let n = 0; n < u.length; n++) {
    const input = u[n]!; // below length
    let out = M * input;
    for (let i = 0, at = 0; i < states; i++) {
      out += L[i]! * s[i]!;
      let sum = B[i]! * input;
      for (let k = 0; k < states; k++) sum += A[at++]! * s[k]!;
      next[i] = sum;
    }
    y[n] = out;
    [s, next] = [next, s];
  }
}
