import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {rms} from "./crest.ts";
import {harmonicDistortion} from "./harmonic-distortion.ts";
import {harmonicsOf} from "./harmonics.ts";
import {steadyCycle} from "./steady-cycle.ts";

/** One entry a level: volts of peak and of RMS without the steady part, gain of the fundamental, THD over the fundamental. */
export type LevelSweep = Readonly<{
  peakOut: Float64Array;
  rmsOut: Float64Array;
  gainDb: Float64Array;
  distortion: Float64Array;
}>;

/**
 * What comes out at `output` as the input's peak rises through `peaksVolts`, once each level has settled.
 *
 * `peakOut` is the largest departure from the cycle's mean, to the nearest of 256 points.
 *
 * @throws {RangeError} if a level is not positive, or as `steadyCycle`
 */
export function levelSweep(
  circuit: Circuit,
  output: NodeName,
  frequencyHz: number,
  peaksVolts: Float64Array,
): LevelSweep {
  const [peakOut, rmsOut, gainDb, distortion] = [0, 0, 0, 0].map(() => new Float64Array(peaksVolts.length)) as Four;
  peaksVolts.forEach((peakVolts, k) => {
    if (!(peakVolts > 0)) throw new RangeError(`levels must be positive, got ${peakVolts} V at index ${k}`);
    const cycle = steadyCycle(circuit, {frequencyHz, peakVolts}, [output]).at.get(output) ?? new Float64Array(256);
    const harmonics = harmonicsOf(cycle);
    const moving = cycle.map((volts) => volts - (harmonics.amplitude[0] ?? 0));
    peakOut[k] = moving.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);
    rmsOut[k] = rms(moving);
    gainDb[k] = 20 * Math.log10((harmonics.amplitude[1] ?? 0) / peakVolts);
    distortion[k] = harmonicDistortion(harmonics).ofFundamental;
  });
  return {peakOut, rmsOut, gainDb, distortion};
}

type Four = [Float64Array, Float64Array, Float64Array, Float64Array];
