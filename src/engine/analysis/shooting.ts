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
    if (!solveWithin(matrix, miss, change, order)) {
      state.set(end);
      continue;
    }
    if (change.every(Number.isFinite)) state.forEach((value, i) => (state[i] = value + (change[i] ?? 0)));
    else state.set(end);
  }
  state.set(best);
  return bestMiss;
}

/**
 * Solves matrix·change = miss. A memory without any way out never forgets, and leaves a column of zeros: it stays where it is.
 *
 * @returns false if the rest has no single solution
 */
function solveWithin(matrix: Float64Array, miss: Float64Array, change: Float64Array, order: Int32Array): boolean {
  const states = miss.length;
  const factors = Float64Array.from(matrix);
  const right = Float64Array.from(miss);
  for (let kept = 0; kept <= states; kept++) {
    const column = factorReal(states, factors, order);
    if (column < 0) {
      solveReal(states, factors, order, right, change);
      return true;
    }
    for (let row = 0; row < states; row++) {
      if (Math.abs(matrix[row * states + column] ?? 0) > 1e-12) return false;
      matrix[row * states + column] = 0;
      matrix[column * states + row] = 0;
    }
    matrix[column * (states + 1)] = 1;
    right[column] = 0;
    factors.set(matrix);
  }
  return false;
}
