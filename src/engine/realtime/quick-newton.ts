/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the lengths they are made with */
import {added, move, read, readBend, slopeAdded, type LawAtWork} from "./law-at-work.ts";

/** Rounds after which a step is left to whoever searches with more care. */
const rounds = 12;

/** What the quick rounds work on: laws in the order of their columns, and room for equations in three unknowns. */
export type QuickNewton = Readonly<{
  laws: readonly LawAtWork[];
  /** How many laws there are up to each column's last. */
  ends: Int32Array;
  /** After a success the laws' sums by columns. */
  sums: Float64Array;
  /** Right side of a round's equations, and the same with the laws' bends. */
  side: Float64Array;
  bent: Float64Array;
  matrix: Float64Array;
  inverse: Float64Array;
  /** What a first solution leaves. */
  left: Float64Array;
  /** Volts of a step that counts as the last. */
  smallestStep: number;
}>;

/** Room for the laws of a model of up to three columns; `sums`, at least three, receives theirs. */
export function quickNewton(laws: readonly LawAtWork[], sums: Float64Array, smallestStep: number): QuickNewton {
  const ends = Int32Array.from({length: 3}, (_, column) => laws.filter((law) => law.column <= column).length);
  const [side, bent, left, matrix, inverse] = [3, 3, 3, 9, 9].map((length) => new Float64Array(length)) as Five;
  const inOrder = [...laws].sort((a, b) => a.column - b.column);
  return {laws: inOrder, ends, sums, side, bent, left, matrix, inverse, smallestStep};
}

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

/**
 * Newton's method on the laws' sums ψ, up to three, from where the laws stand, in the fewest operations: no search along the step,
 * no exchange of rows, every column written out.
 *
 * A round moves each law by share·(pull·ψ − wants), with (1 − Σ give·pull)·ψ = Σ φ − give·wants, each sum over the laws of a
 * column. Where every law moves so little that a series continues it, that series takes the place of further rounds: no
 * exponential and no matrix is worked out anew (Chebyshev's method, Traub, Iterative Methods (1964) [from memory]).
 *
 * @returns false if it did not settle
 */
export function settleQuickly(quick: QuickNewton): boolean {
  const {laws, sums, side, matrix, inverse, smallestStep} = quick;
  for (let round = 0; round < rounds; round++) {
    setUp(quick);
    invertThree(matrix, inverse);
    multiplyThree(inverse, side, sums);
    const s0 = sums[0]!;
    const s1 = sums[1]!;
    const s2 = sums[2]!;
    let last = true;
    let near = true;
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (law.asleep) continue;
      const step = law.share * (law.pull0 * s0 + law.pull1 * s1 + law.pull2 * s2 - law.wants);
      law.step = step;
      const size = Math.abs(step);
      // Negated, so that a step that is no number does not count as small.
      if (!(size <= smallestStep || size <= smallestStep * Math.abs(law.point))) last = false;
      if (law.slope === 0) {
        if (!(law.point + step < law.goneBelow)) near = false;
        continue;
      }
      if (!(size <= law.near && law.point < law.straightFrom)) near = false;
    }
    if (last) refine(quick, side);
    else if (near) last = continueBySeries(quick);
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (law.asleep) continue;
      const {point, step} = law;
      if (last) law.point = point + step;
      else move(law, point, point + step);
    }
    // So near, the laws are their tangents: the sums belong to the points they end at.
    if (last && allSleepOn(quick)) return true;
  }
  return false;
}

/** Tells the laws that sleep where they stand now; whether none of them has to wake. */
function allSleepOn({laws, sums}: QuickNewton): boolean {
  let all = true;
  for (let k = 0; k < laws.length; k++) {
    const law = laws[k]!;
    if (!law.asleep) continue;
    law.point = law.drive + law.pull0 * sums[0]! + law.pull1 * sums[1]! + law.pull2 * sums[2]! - law.ohms * law.value;
    if (law.point < law.goneBelow) continue;
    law.asleep = false;
    all = false;
  }
  return all;
}

/** Reads every law where it stands and writes the equations of a round. */
function setUp({laws, ends, side, matrix}: QuickNewton): void {
  for (let column = 0, k = 0; column < 3; column++) {
    const row = 3 * column;
    let sum = 0;
    let j0 = 0;
    let j1 = 0;
    let j2 = 0;
    for (const end = ends[column]!; k < end; k++) {
      const law = laws[k]!;
      if (law.asleep) {
        sum += law.value;
        continue;
      }
      const {point, ohms} = law;
      read(law);
      const wants = point + ohms * law.value - law.drive;
      const share = ohms === 0 ? 1 : 1 / (1 + ohms * law.slope);
      const give = slopeAdded(law) * share;
      law.wants = wants;
      law.share = share;
      law.give = give;
      sum += added(law) - give * wants;
      if (give === 0) continue;
      j0 -= give * law.pull0;
      j1 -= give * law.pull1;
      j2 -= give * law.pull2;
    }
    matrix[row] = j0;
    matrix[row + 1] = j1;
    matrix[row + 2] = j2;
    matrix[row + column]! += 1;
    side[column] = sum;
  }
}

const passes = 4;

/**
 * Takes what the laws' series have beyond their tangents into sums and steps, over and over until no more is left than Newton's
 * last step would leave, the half of its square over 25 mV; false if a law goes too far for that, or it takes too long.
 */
function continueBySeries(quick: QuickNewton): boolean {
  const {laws, ends, sums, side, bent, inverse, smallestStep} = quick;
  const enough = 0.5 * smallestStep * smallestStep;
  for (let pass = 0; pass < passes; pass++) {
    for (let column = 0, k = 0; column < 3; column++) {
      let sum = side[column]!;
      for (const end = ends[column]!; k < end; k++) {
        const law = laws[k]!;
        if (law.asleep) continue;
        readBend(law);
        sum += law.share * law.bend;
      }
      bent[column] = sum;
    }
    multiplyThree(inverse, bent, sums);
    const s0 = sums[0]!;
    const s1 = sums[1]!;
    const s2 = sums[2]!;
    let done = true;
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (law.asleep) continue;
      const volts = law.pull0 * s0 + law.pull1 * s1 + law.pull2 * s2 - law.wants - law.ohms * law.bend;
      const step = law.share * volts;
      // What the bend still lacks is the slope times this, over the law's width; half a square is what a last step lacks.
      const lacks = Math.abs(step * (step - law.step));
      if (law.slope !== 0 && !(lacks <= enough)) done = false;
      law.step = step;
    }
    if (!done) continue;
    refine(quick, bent);
    return true;
  }
  return false;
}

/**
 * Solves the last equations once more for what their solution leaves: where amperes through diodes meet a hundredth of an ohm, an
 * inverse alone would lose the digits that Kirchhoff's law is held to.
 */
function refine({matrix, inverse, left, sums}: QuickNewton, right: Float64Array): void {
  const s0 = sums[0]!;
  const s1 = sums[1]!;
  const s2 = sums[2]!;
  multiplyThree(matrix, sums, left);
  left[0] = right[0]! - left[0]!;
  left[1] = right[1]! - left[1]!;
  left[2] = right[2]! - left[2]!;
  multiplyThree(inverse, left, sums);
  sums[0]! += s0;
  sums[1]! += s1;
  sums[2]! += s2;
}

/** Writes the inverse of a matrix of three rows; of one that has none, numbers that do not settle. */
function invertThree(a: Float64Array, into: Float64Array): void {
  const a0 = a[0]!;
  const a1 = a[1]!;
  const a2 = a[2]!;
  const a3 = a[3]!;
  const a4 = a[4]!;
  const a5 = a[5]!;
  const a6 = a[6]!;
  const a7 = a[7]!;
  const a8 = a[8]!;
  const minor0 = a4 * a8 - a5 * a7;
  const minor1 = a5 * a6 - a3 * a8;
  const minor2 = a3 * a7 - a4 * a6;
  const scale = 1 / (a0 * minor0 + a1 * minor1 + a2 * minor2);
  into[0] = scale * minor0;
  into[1] = scale * (a2 * a7 - a1 * a8);
  into[2] = scale * (a1 * a5 - a2 * a4);
  into[3] = scale * minor1;
  into[4] = scale * (a0 * a8 - a2 * a6);
  into[5] = scale * (a2 * a3 - a0 * a5);
  into[6] = scale * minor2;
  into[7] = scale * (a1 * a6 - a0 * a7);
  into[8] = scale * (a0 * a4 - a1 * a3);
}

/** into = a·x */
function multiplyThree(a: Float64Array, x: Float64Array, into: Float64Array): void {
  const x0 = x[0]!;
  const x1 = x[1]!;
  const x2 = x[2]!;
  into[0] = a[0]! * x0 + a[1]! * x1 + a[2]! * x2;
  into[1] = a[3]! * x0 + a[4]! * x1 + a[5]! * x2;
  into[2] = a[6]! * x0 + a[7]! * x1 + a[8]! * x2;
}
