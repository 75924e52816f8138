import {formatQuantity} from "../quantities/format-quantity.ts";
import {parseQuantity} from "../quantities/parse-quantity.ts";
import {prefixes, unitFacts, type Unit} from "../quantities/unit.ts";
import {acceptedInterval, toleranceOf, type NumericExercise, type Slip} from "./numeric-exercise.ts";
import {plainAnswer} from "./plain-answer.ts";

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
const prefixSteps = [3, -3, 6, -6, 9, -9, 12, -12, 15, -15, 18, -18];

/** Marks what a reader wrote: reads it, compares it, and looks for the slip that gives the same number. */
export function markAnswer(text: string, exercise: NumericExercise): Marking {
  const plain = plainAnswer(text);
  const read = parseQuantity(plain, exercise.unit);
  if (!read.ok) return {status: "unreadable", message: read.message};
  if (!read.unitGiven && exercise.unit !== "") {
    return {status: "unit missing", readAs: read.readAs, message: unitMissing(plain, read, exercise)};
  }
  return markValue(read.value, read.readAs, exercise);
}

/** What is said of a number without its unit: with a prefix it is nearly there, without one the fitting unit is named. */
function unitMissing(
  text: string,
  {value, readAs}: {value: number; readAs: string},
  exercise: NumericExercise,
): string {
  if (/[^\d\s.,+\-\u2212eE]/.test(text)) return `The unit is missing. If you mean ${readAs}, write that.`;
  const number = formatQuantity(value, "", {figures: 6});
  return `I read this as ${number}, without its unit. Write the unit too, such as ${fittingUnit(value, exercise)}.`;
}

/** The unit, with the prefix that brings a plain number nearest to the answer. */
export function fittingUnit(value: number, {answer, unit}: Readonly<{answer: number; unit: Unit}>): string {
  if (!unitFacts[unit].prefixed || value === 0 || answer === 0) return unit;
  const far = (exponent: number) => Math.abs(Math.log10(Math.abs(value / answer)) + exponent);
  const nearest = prefixes.reduce((best, each) => (far(each.exponent) < far(best.exponent) ? each : best));
  return `${nearest.symbol}${unit}`;
}

/** Marks a number that is read already, in the exercise's unit. */
export function markValue(value: number, readAs: string, exercise: NumericExercise): Marking {
  const {low, high, printed} = acceptedInterval(exercise);
  const [from, to] = printed;
  const accepted = from === to ? `${from} alone` : `${from} to ${to}`;
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
    message: ["Not yet.", ...whyNot(value, causes, exercise)].join(" "),
  };
}

/** Slips that lie far enough from the answer to be told from it: three tolerances. */
export function tellableSlips(exercise: NumericExercise): readonly Slip[] {
  const reach = 3 * toleranceOf(exercise);
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

/** How far off the number is, and what it looks like, in that order. */
function whyNot(value: number, causes: readonly string[], exercise: NumericExercise): readonly string[] {
  const {answer} = exercise;
  if (value === -answer || isNear(-value, answer, exercise)) {
    return [causes.length > 0 ? looksLike(causes) : "The amount is right; its sign is the other one."];
  }
  const off = distance(value, exercise);
  if (causes.length > 0) return [off, looksLike(causes)];
  if (exercise.atMost === true && value > answer && isRoundedTooFar(value, answer)) {
    return [off, "Rounded up, it passes the limit: round what is the most downwards, or write three figures."];
  }
  const remark = remarkOn(value, exercise);
  if (remark !== undefined) return [off, remark];
  if (isFromSeries(exercise)) return [off, looksLike(causes)];
  if (isRoundedTooFar(value, answer)) return [off, "It was rounded too far: write three figures."];
  const isClose = Math.abs(value - answer) <= Math.max(0.05 * Math.abs(answer), 3 * toleranceOf(exercise));
  return [off, isClose ? "So near, look for a number that was rounded on the way, or misread." : looksLike(causes)];
}

/** Whether only one exact value counts, as where a part is chosen from a series: rounding explains nothing there. */
const isFromSeries = ({tolerance, absolute = false}: NumericExercise): boolean => !absolute && tolerance <= 0.001;

/** Whether the answer in one or two figures is this number, and not too far off to be meant so. */
function isRoundedTooFar(value: number, answer: number): boolean {
  if (Math.abs(value / answer - 1) > 0.1) return false;
  return [1, 2].some((figures) => Math.abs(value / Number(answer.toPrecision(figures)) - 1) < 1e-9);
}

/** How far off, as a ratio where that says more than a difference. */
function distance(value: number, {answer, unit, absolute = false}: NumericExercise): string {
  if (Math.sign(value) === -Math.sign(answer)) return "The sign is the other one.";
  const size = Math.abs(value) > Math.abs(answer) ? "big" : "small";
  if (absolute) {
    // Beyond a fifth the amount would tell the answer to who adds it.
    const off = Number(Math.abs(value - answer).toPrecision(1));
    return `Your number is ${off < 0.2 * Math.abs(answer) ? `${formatQuantity(off, unit)} ` : ""}too ${size}.`;
  }
  if (value === 0 || answer === 0) return `Your number is too ${size}.`;
  const ratio = value / answer;
  const [times, word] = ratio > 1 ? [ratio, "big"] : [1 / ratio, "small"];
  // Up to a fifth, a share says more than a ratio.
  if (times < 1.2) {
    const percent = 100 * Math.abs(ratio - 1);
    return `Your number is ${percent < 1 ? "less than 1" : formatQuantity(percent, "", {figures: percent < 10 ? 1 : 2})}\u00a0% too ${word}.`;
  }
  return `Your number is ${named(times)} times too ${word}.`;
}

function named(times: number): string {
  const known: readonly [number, string][] = [
    [2 * Math.PI, "2π"],
    [Math.PI, "π"],
    [(2 * Math.PI) ** 2, "(2π)²"],
  ];
  const found = known.find(([value]) => Math.abs(times / value - 1) < 0.01);
  if (found) return found[1];
  // Beyond a million nobody counts the noughts.
  if (times > 1.01e6) return "more than a million";
  return formatQuantity(times, "", {figures: times < 10 ? 2 : 3});
}

const remarkOn = (value: number, {remarks = []}: NumericExercise): string | undefined =>
  remarks.find(({low, high}) => value >= low && value <= high)?.says;

function looksLike(causes: readonly string[]): string {
  const [first, ...others] = causes;
  if (first === undefined) return "I don't recognise the slip. Compare your steps with those of the hints.";
  if (others.length === 0) return `It looks as if ${first}.`;
  return `More than one slip gives this number: ${causes.join("; or ")}.`;
}
