import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {harmonicAt} from "./harmonics.ts";
import {steadyCycle} from "./steady-cycle.ts";

/**
 * Frequency response at several levels: gain of the fundamental in decibels, a row a level, a column a frequency.
 *
 * At a level that drives nothing into bending it is `frequencyResponse`; above, it shows what clips first. Each point is a settled
 * cycle of its own, so that F frequencies at L levels cost F·L cycles.
 *
 * @param frequenciesHz positive; length F
 * @param peaksVolts positive, at the signal source; length L
 * @returns L rows of F gains, −Infinity where nothing comes out
 * @throws {RangeError} if a level is not positive, or as `steadyCycle`
 */
export function levelResponse(
  circuit: Circuit,
  output: NodeName,
  frequenciesHz: Float64Array,
  peaksVolts: Float64Array,
): readonly Float64Array[] {
  return Array.from(peaksVolts, (peakVolts, k) => {
    if (!(peakVolts > 0)) throw new RangeError(`levels must be positive, got ${peakVolts} V at index ${k}`);
    return frequenciesHz.map((frequencyHz) => fundamentalGainDb(circuit, output, {frequencyHz, peakVolts}));
  });
}

/** Gain of the fundamental of a settled cycle in decibels. */
export function fundamentalGainDb(
  circuit: Circuit,
  output: NodeName,
  drive: Readonly<{frequencyHz: number; peakVolts: number}>,
): number {
  const cycle = steadyCycle(circuit, drive, [output]).at.get(output) ?? new Float64Array(256);
  return 20 * Math.log10(harmonicAt(cycle, 1).amplitude / drive.peakVolts);
}
