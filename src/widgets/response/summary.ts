import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {CurveMark, ResponseCurve} from "../bench-state/curves.ts";
import {gainText, lowEHz, middleHz, trebleHz} from "../bench-state/read-curve.ts";
import {openStrings} from "./open-strings.ts";

/** Gain of a curve in decibels at a frequency in hertz, between its points by a straight line over the logarithm. */
export function gainAt({frequenciesHz, gainDb}: ResponseCurve, frequencyHz: number): number {
  const last = frequenciesHz.length - 1;
  const low = frequenciesHz[0] ?? 1;
  const place = (Math.log(frequencyHz / low) / Math.log((frequenciesHz[last] ?? 1) / low)) * last;
  const k = Math.min(last - 1, Math.max(0, Math.floor(place)));
  const share = Math.min(1, Math.max(0, place - k));
  const [here, next] = [gainDb[k] ?? 0, gainDb[k + 1] ?? 0];
  // Silence on both sides is silence, and no share of it.
  return here === next ? here : here * (1 - share) + next * share;
}

/** The curve in one sentence, now against before. */
export function responseSummary(now: ResponseCurve, before: ResponseCurve): string {
  const at = (name: string, hz: number) =>
    `${gainText(gainAt(now, hz))} at ${name} (before ${gainText(gainAt(before, hz))})`;
  const places = [
    at("the low E", lowEHz),
    at(formatQuantity(middleHz, "Hz"), middleHz),
    at(formatQuantity(trebleHz, "Hz"), trebleHz),
  ];
  return `Gain now: ${places.join(", ")}.${markSentence(now.corners)}`;
}

const words = {
  peak: "hump",
  highest: "highest point",
  bend: "bend",
  "low corner": "lower corner",
  "high corner": "upper corner",
} as const;

function markSentence(marks: readonly CurveMark[]): string {
  if (marks.length === 0) return "";
  const list = marks.map(
    ({kind, frequencyHz, gainDb}) => `${words[kind]} at ${formatQuantity(frequencyHz, "Hz")}, ${gainText(gainDb)}`,
  );
  return ` ${list.join("; ").replace(/^./, (letter) => letter.toUpperCase())}.`;
}

/** What the reading cursor says at a frequency. */
export function readingAt(now: ResponseCurve, before: ResponseCurve, frequencyHz: number): string {
  const [here, there] = [gainAt(now, frequencyHz), gainAt(before, frequencyHz)];
  const read = (db: number) => (Number.isFinite(db) ? formatQuantity(db, "dB", {figures: 2}) : "silent");
  // One unit serves both, unless one of them has no number.
  const first = Number.isFinite(here) && Number.isFinite(there) ? read(here).slice(0, -3) : read(here);
  return `${formatQuantity(frequencyHz, "Hz")}: now ${first}, before ${read(there)}`;
}

/** Third-octave frequencies of the axis in hertz, 1000 · 10^(n/10) (ISO 266). */
export const thirdOctavesHz = Array.from({length: 31}, (_, k) => 1000 * 10 ** ((k - 17) / 10));

/** ISO 266 prints these rounded: 31.5 and not 31.6. */
const nominal = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8];

/** Nominal name of a third octave: 10^(n/10) as ISO 266 prints it, in hertz. */
export function nominalHz(exactHz: number): number {
  const n = Math.round(10 * Math.log10(exactHz));
  return Number(((nominal[((n % 10) + 10) % 10] ?? 1) * 10 ** Math.floor(n / 10)).toPrecision(3));
}

/** Gain in a cell of the table: decibels without the unit, which stands in the column's head. */
export function cellText(curve: ResponseCurve, hz: number): string {
  const db = gainAt(curve, hz);
  return Number.isFinite(db) ? formatQuantity(db, "dB").slice(0, -3) : "silent";
}

/** Places that the reading cursor jumps to, in the order of the list: marks of the curves, then the open strings. */
export function cursorPlaces(
  now: ResponseCurve,
  before: ResponseCurve,
): readonly Readonly<{name: string; frequencyHz: number}>[] {
  const marks = (word: string, {corners}: ResponseCurve) =>
    corners.map(({kind, frequencyHz}) => ({name: `${words[kind]} ${word}`, frequencyHz}));
  const strings = openStrings.map(({name, frequencyHz}) => ({name: `open ${name} string`, frequencyHz}));
  return [...marks("now", now), ...marks("before", before), ...strings];
}

/** The curves as comma-separated values, one third octave a line. */
export function responseCsv(now: ResponseCurve, before: ResponseCurve): string {
  const lines = thirdOctavesHz
    .map(nominalHz)
    .map((hz) => [hz, gainAt(now, hz).toFixed(3), gainAt(before, hz).toFixed(3)].join(","));
  return ["frequency_hz,now_db,before_db", ...lines, ""].join("\n");
}
