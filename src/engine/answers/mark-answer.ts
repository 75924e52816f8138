import {formatQuantity} from "../quantities/format-quantity.ts";
import {parseQuantity} from "../quantities/parse-quantity.ts";
import {acceptedInterval, type NumericExercise, type Slip} from "./numeric-exercise.ts";

/** What becomes of an answer. An unreadable entry or a missing unit is asked about and never counts as a try. */
export type Marking =
  | Readonly<{status: "unreadable"; message: string}>
  | Readonly<{status: "unit missing"; readAs: string; message: string}>
  | Readonly<{
      status: "right" | "not yet";
      readAs: string;
      /** The interval that counts, written out. */
      accepted: string;
      message: string;
      /** What it looks like, when the number fits a slip that is known. */
      causes: readonly string[];
    }>;

/** Powers of ten that a slip of prefix or point makes. */
const prefixSteps = [3, -3, 6, -6, 9, -9, 12, -12];

/** Marks what a reader wrote: reads it, compares it, and looks for the slip that gives the same number. */
export function markAnswer(text: string, exercise: NumericExercise): Marking {
  const read = parseQuantity(text, exercise.unit);
  if (!read.ok) return {status: "unreadable", message: read.message};
  if (!read.unitGiven && exercise.unit !== "") {
    const message = `I read this as ${formatQuantity(read.value, "", {figures: 6})}, without its unit. Write the unit too, such as ${exercise.unit}.`;
    return {status: "unit missing", readAs: read.readAs, message};
  }
  return markValue(read.value, read.readAs, exercise);
}

/** Marks a number that is read already, in the exercise's unit. */
export function markValue(value: number, readAs: string, exercise: NumericExercise): Marking {
  const {low, high} = acceptedInterval(exercise);
  const accepted = `${formatQuantity(low, exercise.unit)} to ${formatQuantity(high, exercise.unit)}`;
  // A hair of slack, so that the ends themselves count.
  const slack = 1e-9 * Math.abs(exercise.answer);
  if (value >= low - slack && value <= high + slack) {
    return {status: "right", readAs, accepted, message: "Right.", causes: []};
  }
  const causes = causesOf(value, exercise);
  return {
    status: "not yet",
    readAs,
    accepted,
    causes,
    message: ["Not yet.", distance(value, exercise), looksLike(causes)].join(" "),
  };
}

/** Slips that lie far enough from the answer to be told from it: three tolerances. */
export function tellableSlips(exercise: NumericExercise): readonly Slip[] {
  const {low, high} = acceptedInterval(exercise);
  const reach = 1.5 * (high - low);
  return exercise.slips.filter(({gives}) => Number.isFinite(gives) && Math.abs(gives - exercise.answer) > reach);
}

function causesOf(value: number, exercise: NumericExercise): readonly string[] {
  const slips = tellableSlips(exercise);
  const plain = slips.filter(({gives}) => isNear(value, gives, exercise)).map(({cause}) => cause);
  if (plain.length > 0) return [...new Set(plain)];
  if (exercise.absolute) return [];
  const moved = prefixSteps.filter((power) => isNear(value, exercise.answer * 10 ** power, exercise));
  if (moved.length > 0) return ["the prefix slipped: look at the powers of ten"];
  const both = slips.filter(({gives}) => prefixSteps.some((power) => isNear(value, gives * 10 ** power, exercise)));
  return [...new Set(both.map(({cause}) => `${cause}, and the prefix slipped as well`))];
}

function isNear(value: number, gives: number, {tolerance, absolute = false}: NumericExercise): boolean {
  return Math.abs(value - gives) <= (absolute ? tolerance : Math.abs(gives) * tolerance);
}

/** How far off, as a ratio where that says more than a difference. */
function distance(value: number, {answer, absolute = false}: NumericExercise): string {
  if (absolute || value === 0 || Math.sign(value) !== Math.sign(answer)) {
    if (Math.sign(value) === -Math.sign(answer)) return "The sign is the other one.";
    return `Your number is too ${Math.abs(value) > Math.abs(answer) ? "big" : "small"}.`;
  }
  const ratio = value / answer;
  const [times, word] = ratio > 1 ? [ratio, "big"] : [1 / ratio, "small"];
  return `Your number is ${named(times)} times too ${word}.`;
}

function named(times: number): string {
  const known: readonly [number, string][] = [
    [2 * Math.PI, "2π"],
    [Math.PI, "π"],
    [(2 * Math.PI) ** 2, "(2π)²"],
  ];
  const found = known.find(([value]) => Math.abs(times / value - 1) < 0.01);
  return found ? found[1] : formatQuantity(times, "", {figures: times < 10 ? 2 : 3});
}

function looksLike(causes: readonly string[]): string {
  const [first, ...others] = causes;
  if (first === undefined) return "It fits no slip I know; the hints may show where it went another way.";
  if (others.length === 0) return `It looks as if ${first}.`;
  return `More than one slip gives this number: ${causes.join("; or ")}.`;
}
