/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {factorReal, solveReal} from "./real-lu.ts";

/** As many equations as unknowns, whose slopes nowhere vanish or grow without bound. */
export type Equations = Readonly<{
  size: number;
  residual: (x: Float64Array, into: Float64Array) => void;
  /** d residual_i / d x_k, row-major. */
  slopes: (x: Float64Array, into: Float64Array) => void;
  /** What the terms of each residual add up to where it was last looked at, x: their rounding is what no double can better. */
  terms: (x: Float64Array, into: Float64Array) => void;
  /** Asked again and again: whether to look no further. */
  givenUp?: () => boolean;
}>;

const newtonRounds = 100;
const curvePoints = 600;
/** Of a row's terms: what may be left where no part of a Newton step makes it less. */
const nearly = 1e-12;
const correctorRounds = 8;
/** A curve that has come this far from where it began, in lengths of the way to go, does not come back. */
const farthest = 1e6;

/**
 * Solves the equations from x, in place.
 *
 * Newton's method with halved steps, which ends at a solution wherever the slopes' matrix keeps an inverse; where that fails, the
 * curve residual(x) = (1 − t)·residual(start) is followed by its length, round folds, until t = 1.
 *
 * @returns false if neither arrives, or the search was given up; x is then where it began
 *
 * Method: Newton homotopy with pseudo-arclength steps, Allgower and Georg, Introduction to Numerical Continuation Methods [from memory].
 */
export function solveGlobally(equations: Equations, x: Float64Array): boolean {
  const start = Float64Array.from(x);
  if (newton(equations, x)) return true;
  for (const direction of [1, -1] as const) {
    x.set(start);
    if (followed(equations, x, direction)) return true;
  }
  x.set(start);
  return false;
}

function newton({size, residual, slopes, terms, givenUp}: Equations, x: Float64Array): boolean {
  const [left, step, trial, trialLeft, scale] = vectors(5, size);
  const matrix = new Float64Array(size * size);
  const order = new Int32Array(size);
  residual(x, left);
  for (let round = 0; round < newtonRounds && !givenUp?.(); round++) {
    // Rows are measured by their own terms, so that what rounding leaves of a large one does not hide a small one.
    terms(x, scale);
    if (largestShare(left, scale) <= 4 * Number.EPSILON) return true;
    slopes(x, matrix);
    if (factorReal(size, matrix, order) >= 0) return false;
    solveReal(size, matrix, order, left, step);
    const squares = squaredShares(left, scale);
    let part = 1;
    for (; part > 1e-9 && !givenUp?.(); part /= 2) {
      for (let k = 0; k < size; k++) trial[k] = x[k]! - part * step[k]!;
      residual(trial, trialLeft);
      if (squaredShares(trialLeft, scale) < (1 - 0.2 * part) * squares) break;
    }
    if (!(part > 1e-9)) {
      residual(x, left);
      return largestShare(left, scale) <= nearly;
    }
    x.set(trial);
    left.set(trialLeft);
  }
  return false;
}

/** Follows the curve with t = T/|residual(start)|, so that T is of the size of what it moves. */
function followed(equations: Equations, x: Float64Array, direction: 1 | -1): boolean {
  const {size, residual} = equations;
  const whole = size + 1;
  const [first, left, solution] = vectors(3, size);
  const [at, guess, tangent, turned, right] = vectors(5, whole);
  const matrix = new Float64Array(whole * whole);
  const slopes = new Float64Array(size * size);
  const order = new Int32Array(whole);
  residual(x, first);
  const length = Math.sqrt(squareSum(first));
  at.set(x);
  tangent[size] = direction;

  /** The slopes with the curve's own column, and a row that asks for a step along `tangent`. */
  const factorAt = (place: Float64Array): boolean => {
    equations.slopes(place.subarray(0, size), slopes);
    for (let row = 0; row < size; row++) {
      matrix.set(slopes.subarray(row * size, (row + 1) * size), row * whole);
      matrix[row * whole + size] = first[row]! / length;
    }
    matrix.set(tangent, size * whole);
    return factorReal(whole, matrix, order) < 0;
  };
  const turn = (): boolean => {
    if (!factorAt(at)) return false;
    right.fill(0);
    right[size] = 1;
    solveReal(whole, matrix, order, right, turned);
    const norm = Math.sqrt(squareSum(turned));
    if (!(norm > 0 && norm < Infinity)) return false;
    for (let k = 0; k < whole; k++) tangent[k] = turned[k]! / norm;
    return true;
  };
  /** Newton's method on the curve from `guess`, across the tangent; how many rounds it took, 0 if it did not arrive. */
  const corrected = (reach: number): number => {
    for (let round = 1; round <= correctorRounds && !equations.givenUp?.(); round++) {
      residual(guess.subarray(0, size), left);
      for (let k = 0; k < size; k++) right[k] = left[k]! - (1 - guess[size]! / length) * first[k]!;
      right[size] = 0;
      if (!factorAt(guess)) return 0;
      solveReal(whole, matrix, order, right, turned);
      let moved = 0;
      for (let k = 0; k < whole; k++) {
        guess[k]! -= turned[k]!;
        moved = Math.max(moved, Math.abs(turned[k]!));
      }
      if (!(moved < 2 * reach)) return 0;
      if (moved < 1e-3 * reach) return round;
    }
    return 0;
  };

  let reach = 0.1;
  for (let count = 0; count < curvePoints && !equations.givenUp?.(); count++) {
    if (!turn()) return false;
    for (;;) {
      for (let k = 0; k < whole; k++) guess[k] = at[k]! + reach * tangent[k]!;
      const rounds = corrected(reach);
      if (rounds > 0) {
        if (at[size]! < length && guess[size]! >= length) {
          const share = (length - at[size]!) / (guess[size]! - at[size]!);
          for (let k = 0; k < size; k++) solution[k] = at[k]! + share * (guess[k]! - at[k]!);
          if (newton(equations, solution)) {
            x.set(solution);
            return true;
          }
          // Too far yet: nearer to it, Newton's method falls in.
          if (reach > 1e-6) {
            reach /= 4;
            continue;
          }
        }
        at.set(guess);
        if (!(Math.abs(at[size]!) < farthest * length)) return false;
        if (rounds <= 3) reach *= 2;
        break;
      }
      reach /= 4;
      if (reach < 1e-9) return false;
    }
  }
  return false;
}

function squareSum(vector: Float64Array): number {
  let sum = 0;
  for (const value of vector) sum += value * value;
  return sum;
}

/** Greatest of |left|/scale; a row of nothing but zeros counts as 0. */
function largestShare(left: Float64Array, scale: Float64Array): number {
  let most = 0;
  // Written so that what is no number counts as most.
  for (let k = 0; k < left.length; k++)
    if (left[k] !== 0 && !(Math.abs(left[k]!) / scale[k]! <= most)) most = Math.abs(left[k]!) / scale[k]!;
  return most;
}

function squaredShares(left: Float64Array, scale: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < left.length; k++) if (left[k] !== 0) sum += (left[k]! / scale[k]!) ** 2;
  return sum;
}

function vectors(count: 3, length: number): [Float64Array, Float64Array, Float64Array];
function vectors(count: 5, length: number): [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
function vectors(count: number, length: number): Float64Array[] {
  return Array.from({length: count}, () => new Float64Array(length));
}
