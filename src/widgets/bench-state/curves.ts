import {halfPowerDb} from "../../engine/analysis/corners.ts";
import {logFrequencies, magnitudeDb} from "../../engine/analysis/frequency-response.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import {responseOf as gainOf} from "../../engine/analysis/response-of.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {benchKey} from "./bench-key.ts";
import {fullGain, inputCornerHz, inputFilter, legCornerHz, lowerLegCornerHz} from "../../engine/course/formulas.ts";

/** A place on a curve that is worth a marker, and the part that puts it there, where one does. */
export type CurveMark = Readonly<{
  frequencyHz: number;
  gainDb: number;
  /** A corner by its formula, or a bend that lies elsewhere; a resonance's hump, or only the highest place of a flat curve. */
  kind: "low corner" | "high corner" | "bend" | "peak" | "highest";
  part?: string;
}>;

type LowMark = Readonly<{frequencyHz: number; kind: "low corner" | "bend"}>;

/** A frequency response as it is drawn: ascending frequencies in hertz, gain in decibels, and its marks inside the axis. */
export type ResponseCurve = Readonly<{
  frequenciesHz: Float64Array;
  gainDb: Float64Array;
  corners: readonly CurveMark[];
  /** The mark of C1's filter, wherever it lies. */
  lowMark?: LowMark;
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

/** The curve of a bench setting. Lessons that teach a corner mark it where their formula puts it, as long as it bends there. */
export function responseOf(setting: BenchSetting): ResponseCurve {
  const known = drawnBenches.get(benchKey(setting));
  if (known) return known;
  const gainDb = solved(setting).gainDb(axisHz);
  const peak = setting.lesson === 6 ? undefined : peakOf(axisHz, gainDb);
  const hump = peak && isHump(setting, peak);
  const lowMark = setting.lesson === 2 ? inputMark(setting, gainDb, hump ? undefined : peak) : undefined;
  const corners: CurveMark[] = [];
  if (lowMark && lowMark.frequencyHz > 20 && lowMark.frequencyHz < 20_000) {
    corners.push({...lowMark, gainDb: gainDbAt(setting, lowMark.frequencyHz), part: "C1"});
  }
  if (setting.lesson === 6) corners.push(...legMarks(setting));
  // Up to lesson 3 nothing stands between pickup and cable: the hump is theirs.
  if (hump) corners.push({...peak, kind: "peak", ...(setting.lesson <= 3 ? {part: "cable"} : {})});
  else if (peak) corners.push({...peak, kind: "highest"});
  return keep(drawnBenches, setting, {frequenciesHz: axisHz, gainDb, corners, ...(lowMark && {lowMark})});
}

/** A loss at a corner that is further from 3 dB than this is not that of a corner, in decibels: our choice. */
const strayDb = 0.5;

type Place = Readonly<{frequencyHz: number; gainDb: number}>;

/**
 * The mark of C1's filter: the formula's corner, where the curve has lost about 3 dB there; else the bend, where it has. With a
 * C1 as small as a cable, or an R2 as small as the guitar's own resistance, what the formula leaves out counts beside what is in
 * it. Losses are measured from the flat part of the curve; where that is no more than the `top` of a bow, from the top.
 */
function inputMark(setting: BenchSetting, gainDb: Float64Array, top: Place | undefined): LowMark {
  const {circuit} = solved(setting);
  const [cornerHz, {bendHz}] = [inputCornerHz(circuit), inputFilter(circuit)];
  const drawnHz = top && halfPowerBelow(gainDb, top);
  const lostDb =
    top && drawnHz !== undefined
      ? top.gainDb - gainDbAt(setting, cornerHz)
      : 10 * Math.log10(1 + (bendHz / cornerHz) ** 2);
  if (Math.abs(lostDb - halfPowerDb) < strayDb) return {frequencyHz: cornerHz, kind: "low corner"};
  return {frequencyHz: drawnHz ?? bendHz, kind: "bend"};
}

/** Where a curve has fallen 3 dB from its top towards the low end, in hertz; undefined where it has not on the axis. */
function halfPowerBelow(gainDb: Float64Array, top: Place): number | undefined {
  const wanted = top.gainDb - halfPowerDb;
  const above = axisHz.findIndex((hz, k) => hz < top.frequencyHz && (gainDb[k] ?? 0) >= wanted);
  const [low, high, below, level] = [axisHz[above - 1], axisHz[above], gainDb[above - 1], gainDb[above]];
  if (low === undefined || high === undefined || below === undefined || level === undefined) return undefined;
  return low * (high / low) ** ((wanted - below) / (level - below));
}

/** A hump stands above the flat part of a curve by this or more, in decibels: our choice. */
const leastHumpDb = 0.5;

/**
 * Whether the highest point of a curve is the guitar's resonance; else it is no more than the flat part between two slopes. In
 * lesson 2 it stands above the flat part, later it rises behind C1 already, before anything amplifies.
 */
function isHump(setting: BenchSetting, {frequencyHz, gainDb}: Place): boolean {
  if (setting.lesson === 1) return true;
  const {circuit} = solved(setting);
  if (setting.lesson === 2) return gainDb - inputFilter(circuit).levelDb >= leastHumpDb;
  const [flatDb = 0, topDb = 0] = magnitudeDb(gainOf(circuit, "p")(Float64Array.of(flatHz, frequencyHz)));
  return topDb - flatDb >= leastHumpDb;
}

/** Where behind C1 the curve is flat, above its corner and far under the resonance, in hertz: our choice. */
const flatHz = 200;

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
  if (middle - Math.max(gainDb[0] ?? 0, gainDb[gainDb.length - 1] ?? 0) < leastHumpDb) return undefined;
  const bend = left - 2 * middle + right;
  const shift = bend === 0 ? 0 : (left - right) / (2 * bend);
  const step = Math.log((frequenciesHz[top + 1] ?? 1) / (frequenciesHz[top] ?? 1));
  return {
    frequencyHz: (frequenciesHz[top] ?? 0) * Math.exp(shift * step),
    gainDb: middle - ((left - right) * shift) / 4,
  };
}
