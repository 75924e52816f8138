import {frequencyResponse, logFrequencies, magnitudeDb} from "../../engine/analysis/frequency-response.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {inputCornerHz} from "../../engine/course/formulas.ts";

/** A place on a curve that is worth a marker. */
export type CurveMark = Readonly<{frequencyHz: number; gainDb: number; kind: "low corner" | "high corner" | "peak"}>;

/** A frequency response as it is drawn: ascending frequencies in hertz, gain in decibels, and its marks inside the axis. */
export type ResponseCurve = Readonly<{
  frequenciesHz: Float64Array;
  gainDb: Float64Array;
  corners: readonly CurveMark[];
  label: string;
}>;

/** The axis of every response: 20 Hz to 20 kHz, 400 points. */
export const axisHz = logFrequencies(20, 20_000, 400);

/** Gain in decibels from the guitar's ideal source to the node one listens to, at one frequency in hertz. */
export function gainDbAt(setting: BenchSetting, frequencyHz: number): number {
  const {circuit, listenAt} = courseCircuit(setting);
  return magnitudeDb(frequencyResponse(circuit, listenAt, Float64Array.of(frequencyHz)))[0] ?? Number.NaN;
}

/** The curve of a bench setting. Lessons that teach a corner mark it where their formula puts it. */
export function responseOf(setting: BenchSetting): ResponseCurve {
  const {circuit, listenAt} = courseCircuit(setting);
  const gainDb = magnitudeDb(frequencyResponse(circuit, listenAt, axisHz));
  const corners: CurveMark[] = [];
  if (setting.lesson === 2) {
    const frequencyHz = inputCornerHz(circuit);
    if (frequencyHz > 20 && frequencyHz < 20_000) {
      const atCorner = magnitudeDb(frequencyResponse(circuit, listenAt, Float64Array.of(frequencyHz)))[0] ?? 0;
      corners.push({frequencyHz, gainDb: atCorner, kind: "low corner"});
    }
  }
  const peak = peakOf(axisHz, gainDb);
  if (peak) corners.push({...peak, kind: "peak"});
  return {frequenciesHz: axisHz, gainDb, corners, label: ""};
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
