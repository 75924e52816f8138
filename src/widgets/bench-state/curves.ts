import {halfPowerDb} from "../../engine/analysis/corners.ts";
import {logFrequencies, magnitudeDb} from "../../engine/analysis/frequency-response.ts";
import {withPart} from "../../engine/circuit/changes.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import {responseOf as gainOf} from "../../engine/analysis/response-of.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {benchKey} from "./bench-key.ts";
import {fullGain, inputCornerHz, legCornerHz, lowerLegCornerHz, partOf} from "../../engine/course/formulas.ts";

/** A place on a curve that is worth a marker, and the part that puts it there, where one does. */
export type CurveMark = Readonly<{
  frequencyHz: number;
  gainDb: number;
  kind: "low corner" | "high corner" | "peak";
  part?: string;
}>;

/** A frequency response as it is drawn: ascending frequencies in hertz, gain in decibels, and its marks inside the axis. */
export type ResponseCurve = Readonly<{
  frequenciesHz: Float64Array;
  gainDb: Float64Array;
  corners: readonly CurveMark[];
  /** A corner that lies below the axis, in hertz. */
  cornerBelowHz?: number;
}>;

/** The axis of every response: 20 Hz to 20 kHz, 400 points. */
export const axisHz = logFrequencies(20, 20_000, 400);

type Solved = Readonly<{circuit: Circuit; gainDb: (frequenciesHz: Float64Array) => Float64Array}>;

/** What was worked out for a circuit serves every reading that asks again, and every phrase level; the oldest go first. */
const solvedBenches = new Map<string, Solved>();
const drawnBenches = new Map<string, ResponseCurve>();
const kept = 32;

function keep<T>(benches: Map<string, T>, setting: BenchSetting, found: T): T {
  benches.set(benchKey(setting), found);
  const [oldest] = benches.keys();
  if (benches.size > kept && oldest !== undefined) benches.delete(oldest);
  return found;
}

function solved(setting: BenchSetting): Solved {
  const known = solvedBenches.get(benchKey(setting));
  if (known) return known;
  const {circuit, listenAt} = courseCircuit(setting);
  const response = gainOf(circuit, listenAt);
  const gainDb = (frequenciesHz: Float64Array) => magnitudeDb(response(frequenciesHz));
  return keep(solvedBenches, setting, {circuit, gainDb});
}

/** The circuit of a bench setting. */
export const circuitOf = (setting: BenchSetting): Circuit => solved(setting).circuit;

/** Gain in decibels from the guitar's ideal source to the node one listens to, at one frequency in hertz. */
export function gainDbAt(setting: BenchSetting, frequencyHz: number): number {
  return solved(setting).gainDb(Float64Array.of(frequencyHz))[0] ?? Number.NaN;
}

/** A loss at a corner that is further from 3 dB than this belongs to another bend than the formula's, in decibels: our choice. */
const strayDb = 1.5;

/**
 * Whether the curve of a bench of lesson 2 bends where the formula of its corner says: about 3 dB are lost there against the
 * same bench with a wire in the place of C1. With a C1 as small as a cable, or an R2 as small as the guitar's own resistance,
 * what the formula leaves out counts for more than what is in it.
 */
export function inputCornerFits(setting: BenchSetting): boolean {
  const {circuit, listenAt} = courseCircuit(setting);
  const C1 = partOf(circuit, "C1");
  if (C1?.kind !== "capacitor") return false;
  const cornerHz = inputCornerHz(circuit);
  const wired = gainOf(withPart(circuit, {kind: "wire", ref: C1.ref, nodes: C1.nodes}), listenAt);
  const lostDb = (magnitudeDb(wired(Float64Array.of(cornerHz)))[0] ?? Number.NaN) - gainDbAt(setting, cornerHz);
  return Math.abs(lostDb - halfPowerDb) < strayDb;
}

/** The curve of a bench setting. Lessons that teach a corner mark it where their formula puts it, as long as it bends there. */
export function responseOf(setting: BenchSetting): ResponseCurve {
  const known = drawnBenches.get(benchKey(setting));
  if (known) return known;
  const gainDb = solved(setting).gainDb(axisHz);
  const corners: CurveMark[] = [];
  const cornerHz = setting.lesson === 2 ? inputCornerHz(solved(setting).circuit) : Number.NaN;
  if (cornerHz > 20 && cornerHz < 20_000 && inputCornerFits(setting)) {
    corners.push({frequencyHz: cornerHz, gainDb: gainDbAt(setting, cornerHz), kind: "low corner", part: "C1"});
  }
  if (setting.lesson === 6) corners.push(...legMarks(setting));
  const peak = setting.lesson === 6 ? undefined : peakOf(axisHz, gainDb);
  // Up to lesson 3 nothing stands between pickup and cable: the hump is theirs.
  if (peak) corners.push({...peak, kind: "peak", ...(setting.lesson <= 3 ? {part: "cable"} : {})});
  const below = cornerHz <= 20 ? {cornerBelowHz: cornerHz} : {};
  return keep(drawnBenches, setting, {frequenciesHz: axisHz, gainDb, corners, ...below});
}

/** Both corners of the leg where they lie on the axis; with the gain turned down they meet and mean nothing. */
function legMarks(setting: BenchSetting): readonly CurveMark[] {
  const {circuit} = solved(setting);
  // Below a gain of √2 there is no point that lies 3 dB under the full gain.
  if (fullGain(circuit) < Math.SQRT2) return [];
  return (
    [
      {kind: "high corner", part: "C3", frequencyHz: legCornerHz(circuit)},
      {kind: "low corner", part: "RV1", frequencyHz: lowerLegCornerHz(circuit)},
    ] as const
  )
    .filter(({frequencyHz}) => frequencyHz > 20 && frequencyHz < 20_000)
    .map((mark) => ({...mark, gainDb: gainDbAt(setting, mark.frequencyHz)}));
}

/**
 * The highest point of a curve when it stands above the middle by half a decibel or more, between the grid's points by a
 * parabola through three of them; undefined when the curve has no hump.
 */
export function peakOf(
  frequenciesHz: Float64Array,
  gainDb: Float64Array,
): Readonly<{frequencyHz: number; gainDb: number}> | undefined {
  let top = 0;
  for (let k = 1; k < gainDb.length; k++) if ((gainDb[k] ?? 0) > (gainDb[top] ?? 0)) top = k;
  const [left, middle, right] = [gainDb[top - 1], gainDb[top], gainDb[top + 1]];
  if (left === undefined || middle === undefined || right === undefined) return undefined;
  if (middle - Math.max(gainDb[0] ?? 0, gainDb[gainDb.length - 1] ?? 0) < 0.5) return undefined;
  const bend = left - 2 * middle + right;
  const shift = bend === 0 ? 0 : (left - right) / (2 * bend);
  const step = Math.log((frequenciesHz[top + 1] ?? 1) / (frequenciesHz[top] ?? 1));
  return {
    frequencyHz: (frequenciesHz[top] ?? 0) * Math.exp(shift * step),
    gainDb: middle - ((left - right) * shift) / 4,
  };
}
