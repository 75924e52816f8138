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

/** Where an exercise's accepted numbers begin and end. A limit ends at itself, rounded up to three figures at most. */
export function acceptedInterval(exercise: NumericExercise): Readonly<{low: number; high: number}> {
  const {answer, atMost = false} = exercise;
  const width = toleranceOf(exercise);
  const high = atMost ? Math.max(answer, Number(answer.toPrecision(3))) : answer + width;
  return {low: answer - width, high};
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
