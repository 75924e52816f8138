import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {rms} from "./crest.ts";
import {harmonicDistortion} from "./harmonic-distortion.ts";
import {harmonicsOf, type Harmonics} from "./harmonics.ts";
import {steadyCycle} from "./steady-cycle.ts";

/** One entry a level: volts of peak and of RMS without the steady part, gain of the fundamental, THD over the fundamental. */
export type LevelSweep = Readonly<{
  /** Peak at the input that gain refers to. */
  peakIn: Float64Array;
  peakOut: Float64Array;
  /** Half of peak to peak at that input and at the output. */
  halfSwingIn: Float64Array;
  halfSwingOut: Float64Array;
  rmsOut: Float64Array;
  gainDb: Float64Array;
  distortion: Float64Array;
}>;

/**
 * What comes out at `output` as the input's peak rises through `peaksVolts`, once each level has settled.
 *
 * `peakOut` and `peakIn` are the largest departure from the cycle's mean, to the nearest of the cycle's points. Of a wave whose
 * halves differ that departure may change sides from one level to the next; half of peak to peak does not.
 *
 * @param options.input node that `peakIn` and `gainDb` refer to; the signal source by default
 * @param options.points points of a cycle, 256 by default, and `stepsPerPoint`, 8: fewer are quicker and coarser
 * @throws {RangeError} if a level is not positive, or as `steadyCycle`
 */
export function levelSweep(
  circuit: Circuit,
  output: NodeName,
  frequencyHz: number,
  peaksVolts: Float64Array,
  {input, points = 256, stepsPerPoint = 8}: LevelSweepOptions = {},
): LevelSweep {
  const probes = input === undefined ? [output] : [output, input];
  const rows = Array.from({length: 7}, () => new Float64Array(peaksVolts.length));
  const [peakIn, peakOut, halfSwingIn, halfSwingOut, rmsOut, gainDb, distortion] = rows as Seven;
  peaksVolts.forEach((peakVolts, k) => {
    if (!(peakVolts > 0)) throw new RangeError(`levels must be positive, got ${peakVolts} V at index ${k}`);
    const {at} = steadyCycle(circuit, {frequencyHz, peakVolts}, probes, points, stepsPerPoint);
    const [out, into] = [output, input].map((node) => node && parted(at.get(node) ?? new Float64Array(points))) as Two;
    peakIn[k] = into ? peakOf(into.moving) : peakVolts;
    peakOut[k] = peakOf(out.moving);
    halfSwingIn[k] = into ? halfSwing(into.moving) : peakVolts;
    halfSwingOut[k] = halfSwing(out.moving);
    rmsOut[k] = rms(out.moving);
    gainDb[k] = 20 * Math.log10((out.harmonics.amplitude[1] ?? 0) / (into?.harmonics.amplitude[1] ?? peakVolts));
    distortion[k] = harmonicDistortion(out.harmonics).ofFundamental;
  });
  return {peakIn, peakOut, halfSwingIn, halfSwingOut, rmsOut, gainDb, distortion};
}

export type LevelSweepOptions = Readonly<{input?: NodeName; points?: number; stepsPerPoint?: number}>;

type Parted = Readonly<{harmonics: Harmonics; moving: Float64Array}>;
type Two = [Parted, Parted | undefined];
type Row = Float64Array;
type Seven = [Row, Row, Row, Row, Row, Row, Row];

/** A cycle's harmonics, and what of it moves: the cycle without its mean. */
function parted(cycle: Float64Array): Parted {
  const harmonics = harmonicsOf(cycle);
  return {harmonics, moving: cycle.map((volts) => volts - (harmonics.amplitude[0] ?? 0))};
}

const peakOf = (moving: Float64Array) => moving.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);

const halfSwing = (moving: Float64Array) => (Math.max(...moving) - Math.min(...moving)) / 2;
