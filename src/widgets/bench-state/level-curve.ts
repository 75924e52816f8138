import {levelSweep} from "../../engine/analysis/level-sweep.ts";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {phrasePeaks} from "../../engine/course/stops.ts";
import {benchKey} from "./bench-key.ts";
import {circuitOf} from "./curves.ts";

/**
 * The gain stage over level in volts, one entry a level: peak of the guitar's ideal source, and half of peak to peak at the +
 * input and at the output. Where up and down are alike, that half is the peak.
 */
export type LevelCurve = Readonly<{levelVolts: Float64Array; inputVolts: Float64Array; outputVolts: Float64Array}>;

const [lowest = 0.01, highest = 1] = [phrasePeaks[0], phrasePeaks.at(-1)];
const [eighths, decades] = [8, Math.log10(highest / lowest)];
const between = Array.from({length: Math.round(eighths * decades)}, (_, k) => lowest * 10 ** (k / eighths));

/** Levels that a curve is worked out at, ascending: every stop of the phrase level, and eighths of a decade between them. */
export const curveLevels = Float64Array.from([
  ...phrasePeaks,
  ...between.filter((volts) => phrasePeaks.every((stop) => Math.abs(Math.log(stop / volts)) > 0.05)),
]).sort();

// A drawn line is some hundredth of its height wide; level-sweep.test.ts holds what these leave out to less.
const resolution = {points: 64, stepsPerPoint: 2} as const;

const known = new Map<string, LevelCurve | undefined>();
const kept = 24;

/** The curve of a bench setting for a sine of `frequencyHz`. Undefined where the bench has no gain stage. */
export function levelCurveOf(setting: BenchSetting, frequencyHz: number): LevelCurve | undefined {
  const key = `${benchKey(setting)}|${frequencyHz}`;
  if (!known.has(key)) known.set(key, swept(setting, frequencyHz));
  const [oldest] = known.keys();
  if (known.size > kept && oldest !== undefined) known.delete(oldest);
  return known.get(key);
}

function swept(setting: BenchSetting, frequencyHz: number): LevelCurve | undefined {
  const circuit = circuitOf(setting);
  if (!circuit.nodes.includes("p") || !circuit.nodes.includes("o")) return undefined;
  const {halfSwingIn, halfSwingOut} = levelSweep(circuit, "o", frequencyHz, curveLevels, {input: "p", ...resolution});
  return {levelVolts: curveLevels, inputVolts: halfSwingIn, outputVolts: halfSwingOut};
}

/** Gain of the stage at each level in decibels, swing over swing. */
export const gainOverLevelDb = ({inputVolts, outputVolts}: LevelCurve): Float64Array =>
  outputVolts.map((volts, k) => 20 * Math.log10(volts / (inputVolts[k] ?? Number.NaN)));

/** Value of a row at a level in volts, between its entries by a straight line over the logarithm; held at both ends. */
export function atLevel({levelVolts}: LevelCurve, row: Float64Array, level: number): number {
  const last = levelVolts.length - 1;
  const next = levelVolts.findIndex((volts) => volts >= level * (1 - 1e-9));
  if (next === -1) return row[last] ?? Number.NaN;
  if (next === 0) return row[0] ?? Number.NaN;
  const [a = 1, b = 1] = [levelVolts[next - 1], levelVolts[next]];
  const share = Math.min(1, Math.log(level / a) / Math.log(b / a));
  return (row[next - 1] ?? 0) * (1 - share) + (row[next] ?? 0) * share;
}
