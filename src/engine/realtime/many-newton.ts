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
  return {laws, columns, sums, matrix: new Float64Array(columns * columns), smallestStep};
}

/**
 * Newton's method as `settleQuickly` has it, for any number of columns: loops in place of what is written out there, and no series.
 *
 * @returns false if it did not settle
 */
export function settleMany({laws, columns, sums, matrix, smallestStep}: ManyNewton): boolean {
  const {length} = laws;
  for (let round = 0; round < rounds; round++) {
    for (let at = 0; at < matrix.length; at++) matrix[at] = 0;
    for (let j = 0; j < columns; j++) {
      matrix[j * columns + j] = 1;
      sums[j] = 0;
    }
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      const {column, ohms, pulls} = law;
      read(law);
      const wants = law.point + ohms * law.value - law.drive;
      const share = ohms === 0 ? 1 : 1 / (1 + ohms * law.slope);
      const give = slopeAdded(law) * share;
      law.wants = wants;
      law.share = share;
      law.give = give;
      sums[column]! += added(law) - give * wants;
      if (give === 0) continue;
      for (let j = 0, at = column * columns; j < columns; j++, at++) matrix[at]! -= give * pulls[j]!;
    }
    if (!solveInPlace(columns, matrix, sums, 1)) return false;
    let last = true;
    for (let k = 0; k < length; k++) {
      const law = laws[k]!;
      const {pulls} = law;
      let volts = -law.wants;
      for (let j = 0; j < columns; j++) volts += pulls[j]! * sums[j]!;
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
    if (last) return true;
  }
  return false;
}
