/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {factorReal, solveReal} from "../solve/real-lu.ts";

/** A cycle that also tells how its end depends on its start. */
export type CycleMap = Readonly<{
  /**
   * Writes the memory one cycle after `from`, and d(end)/d(from), states × states, row-major.
   *
   * @returns false if a step of it found no solution; what was written then means nothing
   */
  run: (from: Float64Array, end: Float64Array, sensitivity: Float64Array) => boolean;
  /** Writes what rounding may leave of each entry after a cycle, where the entries are as large as `size`. */
  rounding: (size: Float64Array, into: Float64Array) => void;
  /** Farads or henries of each entry: no plain cycle brings two memories further apart in energy, as long as the circuit loses it. */
  stores: Float64Array;
}>;

const shots = 100;
/** Shots without one twice as close after which a miss that is small enough is taken for rounding. */
const patience = 6;
const leastGap = 1e-12;

type Shot = {from: Float64Array; end: Float64Array; sensitivity: Float64Array};

/**
 * Looks for a memory that comes back after a cycle, starting from `state` and moving it in place to the best one found.
 *
 * @param close largest miss of an entry, relative to its size, that is as good as none; what rounding leaves is as good
 * @param enough the same relative to the largest entry: taken where none closer is found
 * @returns whether it comes back so
 *
 * Method: shooting, Aprille and Trick, Proc. IEEE 60 (1972) [from memory], led as pseudo-transient continuation, Kelley and Keyes,
 * SIAM J. Numer. Anal. 35 (1998) [from memory]: a shot goes where cycle after cycle would lead if each counted a share `gap` less
 * than the one before, (1 − (1 − gap)·Φ)·change = miss. gap = 1 is a plain cycle, which a circuit that loses energy may always take;
 * gap = 0 is Newton's method. Shots that come closer narrow it, others are taken back and widen it. So a memory that only a
 * blocking diode empties, whose Φ is 1 to the last digit, moves on by more and more cycles at once.
 */
export function shoot(state: Float64Array, {run, rounding, stores}: CycleMap, close: number, enough: number): boolean {
  const states = state.length;
  const shot = (): Shot => ({
    from: new Float64Array(states),
    end: new Float64Array(states),
    sensitivity: new Float64Array(states * states),
  });
  let [now, trial] = [shot(), shot()];
  const [size, least, miss, change] = [state, state, state, state].map(() => new Float64Array(states)) as Four;
  const matrix = new Float64Array(states * states);
  const order = new Int32Array(states);

  const made = ({from, end, sensitivity}: Shot): boolean =>
    from.every(Number.isFinite) && run(from, end, sensitivity) && end.every(Number.isFinite);
  /** Greatest miss of an entry, relative to its size; 1 is `close`. */
  const missed = ({from, end}: Shot): number => {
    let most = 0;
    for (let i = 0; i < states; i++)
      most = Math.max(most, Math.abs(end[i]! - from[i]!) / Math.max(close * size[i]!, least[i]!, 1e-300));
    return most;
  };
  const energy = ({from, end}: Shot): number => {
    let sum = 0;
    for (let i = 0; i < states; i++) sum += stores[i]! * (end[i]! - from[i]!) ** 2;
    return sum;
  };
  const take = ({from, end}: Shot): void => {
    for (let i = 0; i < states; i++) size[i] = Math.max(size[i]!, Math.abs(from[i]!), Math.abs(end[i]!));
    rounding(size, least);
  };
  const settled = ({from, end}: Shot, within: number): boolean => {
    const largest = size.reduce((most, each) => Math.max(most, each), 0);
    return end.every((each, i) => Math.abs(each - from[i]!) <= Math.max(within * largest, least[i]!));
  };

  now.from.set(state);
  if (!made(now)) return false;
  take(now);
  let missing = missed(now);
  let [gap, best, since] = [0.1, missing, 0];
  for (let count = 0; count < shots && missing > 1; count++) {
    for (let i = 0; i < states; i++) {
      const left = now.end[i]! - now.from[i]!;
      miss[i] = Math.abs(left) <= least[i]! ? 0 : left;
    }
    for (let c = 0; c < matrix.length; c++)
      matrix[c] = (c % (states + 1) === 0 ? 1 : 0) - (1 - gap) * now.sensitivity[c]!;
    if (gap < 1 && factorReal(states, matrix, order) < 0) solveReal(states, matrix, order, miss, change);
    else change.set(miss);
    for (let i = 0; i < states; i++) trial.from[i] = now.from[i]! + change[i]!;
    const solved = made(trial);
    const ratio = solved ? Math.min(Math.sqrt(energy(trial) / energy(now)), missed(trial) / missing) : Infinity;
    // What leaks away evenly comes no closer for a long while, and yet must go on.
    if (ratio < 1.1 || (solved && gap === 1)) {
      gap = Math.max(leastGap, gap * Math.min(0.3, Math.max(0.01, ratio)));
      [now, trial] = [trial, now];
      take(now);
      missing = missed(now);
    } else if (gap < 1) gap = Math.min(1, 10 * gap);
    else break;
    since++;
    if (missing < 0.5 * best) [best, since] = [missing, 0];
    if (since > patience && settled(now, enough)) break;
  }
  state.set(now.end);
  return missing <= 1 || settled(now, enough);
}

type Four = [Float64Array, Float64Array, Float64Array, Float64Array];
