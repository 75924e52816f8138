import {factorReal, solveReal} from "../solve/real-lu.ts";

/** A cycle that also tells how its end depends on its start. */
export type CycleMap = Readonly<{
  /** Writes the memory one cycle after `from`, and d(end)/d(from), states × states, row-major. */
  run: (from: Float64Array, end: Float64Array, sensitivity: Float64Array) => void;
}>;

const shots = 12;

/**
 * Looks for a memory that comes back after a cycle, starting from `state` and moving it in place to the best one found.
 *
 * @returns how far the best misses, relative to the largest entry
 *
 * Method: shooting, Aprille and Trick, Proc. IEEE 60 (1972) [from memory]: Newton's method on the memory with its exact
 * sensitivity; where a shot misses by far more than the best one, a plain cycle is run from there instead.
 */
export function shoot(state: Float64Array, {run}: CycleMap, close: number): number {
  const states = state.length;
  const end = new Float64Array(states);
  const change = new Float64Array(states);
  const best = Float64Array.from(state);
  const matrix = new Float64Array(states * states);
  const order = new Int32Array(states);
  let bestMiss = Infinity;
  let reference = Infinity;
  for (let shot = 0; shot < shots; shot++) {
    run(state, end, matrix);
    const miss = end.map((value, i) => value - (state[i] ?? 0));
    const size = state.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-12);
    const missed = miss.reduce((most, value) => Math.max(most, Math.abs(value)), 0) / size;
    if (missed < bestMiss) {
      bestMiss = missed;
      best.set(end);
    }
    if (missed <= close) break;
    if (!(missed <= 10 * reference)) {
      state.set(best);
      reference = Infinity;
      continue;
    }
    reference = Math.min(reference, missed);
    // (1 − Φ)·change = miss
    for (let c = 0; c < matrix.length; c++) matrix[c] = (c % (states + 1) === 0 ? 1 : 0) - (matrix[c] ?? 0);
    if (factorReal(states, matrix, order) >= 0) {
      state.set(end);
      continue;
    }
    solveReal(states, matrix, order, miss, change);
    if (change.every(Number.isFinite)) state.forEach((value, i) => (state[i] = value + (change[i] ?? 0)));
    else state.set(end);
  }
  state.set(best);
  return bestMiss;
}
