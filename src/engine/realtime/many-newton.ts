/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the lengths they are made with */
import {solveInPlace} from "../solve/solve-in-place.ts";
import {added, move, read, slopeAdded, type LawAtWork} from "./law-at-work.ts";

/** Rounds after which a step is left to whoever searches with more care. */
const rounds = 12;

/** What the rounds work on where there are more than three columns. */
export type ManyNewton = Readonly<{
  laws: readonly LawAtWork[];
  columns: number;
  /** After a success the laws' sums by columns. */
  sums: Float64Array;
  /** What a round adds to them. */
  change: Float64Array;
  matrix: Float64Array;
  /** Volts of a step that counts as the last. */
  smallestStep: number;
}>;

/** Room for the laws of a model of any number of columns; `sums`, as many, receives theirs. */
export function manyNewton(
  laws: readonly LawAtWork[],
  columns: number,
  sums: Float64Array,
  smallestStep: number,
): ManyNewton {
  return {laws, columns, sums, change: new Float64Array(columns), matrix: new Float64Array(columns ** 2), smallestStep};
}

/**
 * Newton's method for any number of columns, from where the laws stand: no search along the step. Each round solves for what the
 * sums lack, not for the sums: between nodes that only diodes hold these balance at kilovolts, and would leave no digits.
 *
 * @returns false if it did not settle
 */
export function settleMany({laws, columns, sums, change, matrix, smallestStep}: ManyNewton): boolean {
  const {length} = laws;
  for (let round = 0; round < rounds; round++) {
    matrix.fill(0);
    for (let j = 0; j < columns; j++) {
      matrix[j * columns + j] = 1;
      sums[j] = 0;
      change[j] = 0;
    }
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      read(law);
      sums[law.column]! += added(law);
    }
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      const {column, ohms, pulls} = law;
      let volts = law.drive;
      for (let j = 0; j < columns; j++) volts += pulls[j]! * sums[j]!;
      const wants = law.point + ohms * law.value - volts;
      const share = ohms === 0 ? 1 : 1 / (1 + ohms * law.slope);
      const give = slopeAdded(law) * share;
      law.wants = wants;
      law.share = share;
      law.give = give;
      change[column]! -= give * wants;
      if (give === 0) continue;
      for (let j = 0, at = column * columns; j < columns; j++, at++) matrix[at]! -= give * pulls[j]!;
    }
    if (!solveInPlace(columns, matrix, change, 1)) return false;
    let last = true;
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      const {pulls} = law;
      let volts = -law.wants;
      for (let j = 0; j < columns; j++) volts += pulls[j]! * change[j]!;
      const step = law.share * volts;
      law.step = step;
      const size = Math.abs(step);
      // Negated, so that a step that is no number does not count as small.
      if (!(size <= smallestStep || size <= smallestStep * Math.abs(law.point))) last = false;
    }
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      const {point, step} = law;
      if (last) law.point = point + step;
      else move(law, point, point + step);
    }
    if (!last) continue;
    // So near, the laws are their tangents: with this the sums belong to the points they end at.
    for (let j = 0; j < columns; j++) sums[j]! += change[j]!;
    return true;
  }
  return false;
}
