import {controlsOf, type BenchSetting, type ControlName} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {gainDbAt, responseOf, type CurveMark} from "./curves.ts";

/** Open low E of a guitar in equal temperament on A = 440 Hz (ISO 16), in hertz. */
export const lowEHz = 440 * 2 ** (-29 / 12);
/** Where the middle and the treble of a curve are read, in hertz: our choice. */
export const middleHz = 1000;
export const trebleHz = 5000;

/** Decibels as the course prints them; "silence" where nothing comes through, or nothing is left to compare with. */
export const gainText = (db: number): string => (Number.isFinite(db) ? formatQuantity(db, "dB") : "silence");

/** By how much two levels differ; where only one of them is silent, no number says it. */
export const changeText = (db: number): string => (Number.isFinite(db) ? formatQuantity(db, "dB") : "all there is");

/** Whether nothing comes through at all, as with a volume control that is all the way down. */
export const isSilent = (setting: BenchSetting): boolean => gainDbAt(setting, middleHz) === -Infinity;

/** The decibels that are printed, as a number: what a reader subtracts. */
export function printedDb(db: number): number {
  if (!Number.isFinite(db)) return db;
  return Number(
    formatQuantity(db, "dB")
      .replace("\u2212", "-")
      .replace(/\u00a0dB$/, ""),
  );
}

/**
 * The difference of two levels as they are printed, in decibels, so that the sum comes out for who checks it; where they are
 * printed alike, the small difference that there is.
 */
export function printedDifferenceDb(to: number, from: number): number {
  const [high, low] = [printedDb(to), printedDb(from)];
  if (high !== low) return high - low;
  return to === from ? 0 : to - from;
}

/** Where a control stands on a bench; 0 where the bench has none of that name. */
export function placeOf({lesson, settings}: BenchSetting, name: ControlName): number {
  return settings[name] ?? controlsOf(lesson).find((each) => each.name === name)?.start ?? 0;
}

/** The hump of a bench's curve, where it has one. */
export const humpOf = (setting: BenchSetting): CurveMark | undefined =>
  responseOf(setting).corners.find(({kind}) => kind === "peak");
