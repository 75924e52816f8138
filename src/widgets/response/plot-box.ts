import type {ResponseCurve} from "../bench-state/curves.ts";

/** Where things lie in a drawn response: pixels of the drawing, decibels of its axis. */
export type PlotBox = Readonly<{
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  lowDb: number;
  highDb: number;
  stepDb: number;
}>;

const lowHz = 20;
const highHz = 20_000;

/** The box of a drawing for these curves. The axis holds both, at steps that the trade draws, and is 12 dB tall or more. */
export function plotBox(
  curves: readonly ResponseCurve[],
  {width, height, compact}: Readonly<{width: number; height: number; compact: boolean}>,
): PlotBox {
  let [low, high] = [0, 0];
  for (const {gainDb} of curves) {
    for (const db of gainDb) {
      if (db < low) low = db;
      if (db > high) high = db;
    }
  }
  // A curve that falls for ever must not press the rest flat: 60 dB under its top is far enough.
  low = Math.max(low, high - 60);
  const span = Math.max(12, high - low);
  const stepDb = [3, 6, 10, 20].find((step) => span / step <= (compact ? 4 : 7)) ?? 20;
  const lowDb = Math.floor(Math.min(low, high - 12 + stepDb) / stepDb) * stepDb;
  const highDb = Math.ceil((high + 0.2 * stepDb) / stepDb) * stepDb;
  const [left, bottom] = compact ? [30, 34] : [40, 46];
  return {
    width,
    height,
    left,
    right: width - 14,
    top: compact ? 20 : 24,
    bottom: height - bottom,
    lowDb,
    highDb,
    stepDb,
  };
}

/** Pixel of a frequency in hertz: a logarithmic axis from 20 Hz to 20 kHz. */
export const xOf = ({left, right}: PlotBox, frequencyHz: number) =>
  left + ((right - left) * Math.log(frequencyHz / lowHz)) / Math.log(highHz / lowHz);

/** Frequency in hertz at a pixel, held inside the axis. */
export const frequencyAt = ({left, right}: PlotBox, x: number) =>
  lowHz * (highHz / lowHz) ** Math.min(1, Math.max(0, (x - left) / (right - left)));

/** Pixel of a gain in decibels. */
export const yOf = ({top, bottom, lowDb, highDb}: PlotBox, gainDb: number) =>
  bottom - ((bottom - top) * (gainDb - lowDb)) / (highDb - lowDb);

/** Decibel steps of the axis, from low to high. */
export const decibelSteps = ({lowDb, highDb, stepDb}: PlotBox): readonly number[] =>
  Array.from({length: Math.round((highDb - lowDb) / stepDb) + 1}, (_, k) => lowDb + k * stepDb);

/** The axis as a name: two boxes of one size with the same name have the same axes. */
export const axisOf = ({lowDb, highDb, stepDb}: PlotBox): string => `${lowDb} to ${highDb} by ${stepDb}`;
