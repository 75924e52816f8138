import {formatQuantity} from "../quantities/format-quantity.ts";
import {parseQuantity} from "../quantities/parse-quantity.ts";
import type {Unit} from "../quantities/unit.ts";

/** One way to go wrong, worked out on the exercise's own values. */
export type Slip = Readonly<{
  /** What was done, as it follows "It looks as if": "the 2π was left out". */
  cause: string;
  /** The number that this slip gives, in the exercise's unit. */
  gives: number;
}>;

/** What is said of a number that is no slip and still deserves a word: "works, but is not the smallest". */
export type Remark = Readonly<{low: number; high: number; says: string}>;

/** A question with a number for an answer. Everything in it is computed from the circuit it is about. */
export type NumericExercise = Readonly<{
  id: string;
  unit: Unit;
  answer: number;
  /** How far off still counts: relative to the answer, or in the unit itself for decibels and degrees. */
  tolerance: number;
  absolute?: boolean;
  /** Whether the answer is the most that is allowed: what lies above it by more than its rounding does not count. */
  atMost?: boolean;
  slips: readonly Slip[];
  /** Looked through in order when no slip fits. */
  remarks?: readonly Remark[];
}>;

/** How far off the answer still counts, in the exercise's unit. */
export const toleranceOf = ({answer, tolerance, absolute = false}: NumericExercise): number =>
  absolute ? tolerance : Math.abs(answer) * tolerance;

/** The numbers that count, from `low` to `high` in the exercise's unit, and the same two as they are printed. */
export type AcceptedInterval = Readonly<{low: number; high: number; printed: readonly [string, string]}>;

/**
 * Where an exercise's accepted numbers begin and end: the tolerance on both sides of the answer, or below a limit, rounded
 * as it is printed, so that what is printed is what counts. Three figures, and more only where three would leave the answer out.
 */
export function acceptedInterval(exercise: NumericExercise): AcceptedInterval {
  const {answer, unit, atMost = false} = exercise;
  const width = toleranceOf(exercise);
  const ends = [answer - width, atMost ? answer : answer + width] as const;
  for (const figures of [3, 4, 5, 6]) {
    const [from, to] = ends.map((end) => formatQuantity(end, unit, {figures}));
    const [low, high] = [from, to].map((text = "") => valueOf(text, unit));
    if (low === undefined || high === undefined || from === undefined || to === undefined) continue;
    if (low <= answer * (1 + hair) && answer * (1 - hair) <= high) return {low, high, printed: [from, to]};
  }
  const [low, high] = ends;
  return {low, high, printed: [formatQuantity(low, unit, {figures: 6}), formatQuantity(high, unit, {figures: 6})]};
}

/** Room for the rounding of floating point, relative. */
const hair = 1e-9;

function valueOf(text: string, unit: Unit): number | undefined {
  const read = parseQuantity(text, unit);
  return read.ok ? read.value : undefined;
}

/** Slips of any formula for a corner or a resonance with a 2π in it: left out, π for it, turned upside down. */
export function twoPiSlips(answer: number): readonly Slip[] {
  return [
    {cause: "the 2π was left out: that is a corner in radians per second", gives: answer * 2 * Math.PI},
    {cause: "π stood where 2π belongs", gives: answer * 2},
    {cause: "the number was divided by 2π twice", gives: answer / (2 * Math.PI)},
    {cause: "the time was given: turn it upside down for a frequency", gives: 1 / answer},
    {cause: "the time R·C was given and not the frequency", gives: 1 / (2 * Math.PI * answer)},
  ];
}
