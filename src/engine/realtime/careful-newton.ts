/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {solveInPlace} from "../solve/solve-in-place.ts";
import type {Purse} from "./hard-step.ts";
import {added, move, read, slopeAdded, type LawAtWork} from "./law-at-work.ts";

/** Newton's method on the laws of a step, with junction limiting and a search along each step. */
export type CarefulNewton = Readonly<{
  /** Moves the laws' points to a solution, their sums with them; false if none was found. */
  settle: (smallestStep: number) => boolean;
  /** Reads every law where it stands, and adds up. */
  look: () => void;
  /** Writes 1 − Σ give_k·pull_k, columns × columns, for where the laws were last read. */
  derive: (matrix: Float64Array) => void;
}>;

const rounds = 40;
/** From here on a Newton step loses so many of its own digits that the last one is made twice. */
const steep = 1e5;

/**
 * @param sums receives the laws' sums by columns
 * @param purse what its looks are taken off
 */
export function carefulNewton(
  laws: readonly LawAtWork[],
  columns: number,
  sums: Float64Array,
  purse: Purse = {looks: Infinity},
): CarefulNewton {
  const m = laws.length;
  const before = new Float64Array(m);
  const values = new Float64Array(m);
  const change = new Float64Array(columns);
  const matrix = new Float64Array(columns * columns);

  const addUp = (): void => {
    sums.fill(0);
    for (let k = 0; k < m; k++) sums[laws[k]!.column]! += values[k]!;
  };
  /** Residual of every law where it stands, as what it wants beyond drive and sums; returns the square sum. */
  const look = (): number => {
    purse.looks -= m;
    for (let k = 0; k < m; k++) {
      const law = laws[k]!;
      read(law);
      values[k] = added(law);
      law.share = 1 / (1 + law.ohms * law.slope);
      law.give = slopeAdded(law) * law.share;
    }
    addUp();
    let squares = 0;
    for (let k = 0; k < m; k++) {
      const law = laws[k]!;
      law.wants = law.point - (law.drive + pulled(law, sums, columns)) + law.ohms * law.value;
      squares += law.wants ** 2;
    }
    return squares;
  };

  const derive = (matrix: Float64Array): void => {
    matrix.fill(0);
    for (let j = 0; j < columns; j++) matrix[j * columns + j] = 1;
    for (let k = 0; k < m; k++) {
      const {give, pulls} = laws[k]!;
      for (let j = 0, at = laws[k]!.column * columns; j < columns; j++) matrix[at++]! -= give * pulls[j]!;
    }
  };

  /** How much the sums move a law that conducts, at most: the digits that a Newton step may lose of itself. */
  const steepest = (): number => {
    let most = 0;
    for (let k = 0; k < m; k++)
      for (let j = 0; j < columns; j++) most = Math.max(most, Math.abs(laws[k]!.give * laws[k]!.pulls[j]!));
    return most;
  };

  /** Goes a part of the last step, all of it as far as the junctions may follow; returns the square sum there. */
  const go = (part: number): number => {
    for (let k = 0; k < m; k++) {
      const law = laws[k]!;
      if (part < 1) law.point = before[k]! + part * law.step;
      else move(law, before[k]!, before[k]! + law.step);
    }
    return look();
  };

  const settle = (smallestStep: number): boolean => {
    let squares = look();
    let again = false;
    for (let round = 0; round < rounds; round++) {
      derive(matrix);
      change.fill(0);
      for (let k = 0; k < m; k++) change[laws[k]!.column]! -= laws[k]!.give * laws[k]!.wants;
      if (!solveInPlace(columns, matrix, change, 1)) return false;
      let last = true;
      for (let k = 0; k < m; k++) {
        const law = laws[k]!;
        law.step = (pulled(law, change, columns) - law.wants) * law.share;
        before[k] = law.point;
        // Negated, so that a step that is no number does not count as small.
        if (!(Math.abs(law.step) <= smallestStep * Math.max(1, Math.abs(law.point)))) last = false;
      }
      if (last) {
        // So near, the laws are their tangents; points and values then satisfy the equations to the last digit.
        for (let k = 0; k < m; k++) {
          const law = laws[k]!;
          law.point += law.step;
          values[k]! += slopeAdded(law) * law.step;
        }
        addUp();
        if (again || !(steepest() > steep)) return true;
        again = true;
        squares = look();
        continue;
      }
      if (again) return true;
      let found = go(1);
      // Limiting changes a step's direction, so the first rounds may climb; later ones must come down.
      for (let part = 0.5, cut = 0; round > 6 && !(found < squares) && cut < 20; cut++, part *= 0.5) found = go(part);
      if (!(found < Infinity)) return false;
      squares = found;
    }
    return false;
  };
  return {settle, look, derive};
}

/** What the columns' sums do to a law's voltage. */
function pulled({pulls}: LawAtWork, sums: Float64Array, columns: number): number {
  let volts = 0;
  for (let j = 0; j < columns; j++) volts += pulls[j]! * sums[j]!;
  return volts;
}
