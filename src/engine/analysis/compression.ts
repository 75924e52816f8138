import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {fundamentalGainDb} from "./level-response.ts";
import {levelSweep} from "./level-sweep.ts";

/** Output over input on decibel scales, one entry a level. */
export type Compression = Readonly<{
  /** Level of the input, and of the output without its steady part: decibels of peak and of RMS volts, 0 dB for 1 V. */
  inputDb: Float64Array;
  peakOutDb: Float64Array;
  rmsOutDb: Float64Array;
  /** Decibels that the output's RMS gains for one more at the input: 1 where nothing is compressed, 0 at a ceiling and in silence. */
  slope: Float64Array;
  /** The same the usual way round, decibels in for one out: 2 is 2:1. */
  ratio: Float64Array;
}>;

/**
 * How the output's level follows the input's at one frequency, once each level has settled.
 *
 * The slope is that of the parabola through each level and its neighbours, at the ends through the three nearest; levels a decibel
 * apart give it to some thousandths.
 *
 * @param peaksVolts positive and ascending, 3 or more
 * @throws {RangeError} if the levels are fewer, or do not ascend from above 0 V, or as `steadyCycle`
 */
export function compression(
  circuit: Circuit,
  output: NodeName,
  frequencyHz: number,
  peaksVolts: Float64Array,
): Compression {
  if (peaksVolts.length < 3) throw new RangeError(`compression needs 3 or more levels, got ${peaksVolts.length}`);
  peaksVolts.forEach((volts, k) => {
    const before = peaksVolts[k - 1] ?? 0;
    if (!(volts > before)) throw new RangeError(`levels must ascend: ${volts} V follows ${before} V at index ${k}`);
  });
  const {peakOut, rmsOut} = levelSweep(circuit, output, frequencyHz, peaksVolts);
  const [inputDb, peakOutDb, rmsOutDb] = [peaksVolts, peakOut, rmsOut].map((row) => row.map(decibels)) as Three;
  const slope = slopes(inputDb, rmsOutDb);
  return {inputDb, peakOutDb, rmsOutDb, slope, ratio: slope.map((each) => 1 / each)};
}

/**
 * Input level in volts of peak at which the gain of the fundamental has fallen `fallDb` below that of a quiet signal (1 mV):
 * the compression point. Undefined if the gain has not fallen so far at `highVolts`.
 *
 * @param options.fallDb 1 dB by default; must be positive
 * @param options.highVolts highest level tried, 10 V by default
 *
 * Method: bisection on the level in decibels, to a ten-thousandth of one.
 */
export function compressionPoint(
  circuit: Circuit,
  output: NodeName,
  frequencyHz: number,
  {fallDb = 1, highVolts = 10}: Readonly<{fallDb?: number; highVolts?: number}> = {},
): number | undefined {
  if (!(fallDb > 0 && highVolts > quietVolts))
    throw new RangeError(`a fall and a level above 1 mV are needed, got ${fallDb} dB and ${highVolts} V`);
  const gainDb = (peakVolts: number) => fundamentalGainDb(circuit, output, {frequencyHz, peakVolts});
  const wanted = gainDb(quietVolts) - fallDb;
  let [low, high] = [quietVolts, highVolts];
  if (!(gainDb(high) < wanted)) return undefined;
  while (decibels(high / low) > 1e-4) {
    const middle = Math.sqrt(low * high);
    if (gainDb(middle) < wanted) high = middle;
    else low = middle;
  }
  return Math.sqrt(low * high);
}

const quietVolts = 1e-3;
const decibels = (volts: number) => 20 * Math.log10(volts);

type Three = [Float64Array, Float64Array, Float64Array];

/** Slope at each point of the parabola through it and its neighbours. */
function slopes(x: Float64Array, y: Float64Array): Float64Array {
  return x.map((here, k) => {
    const first = Math.max(0, Math.min(x.length - 3, k - 1));
    const [x0 = NaN, x1 = NaN, x2 = NaN] = x.subarray(first);
    const [y0 = NaN, y1 = NaN, y2 = NaN] = y.subarray(first);
    if (!Number.isFinite(y0 + y1 + y2)) return 0; // silence follows no level
    const [left, right] = [(y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)];
    return left + ((right - left) / (x2 - x0)) * (2 * here - x0 - x1);
  });
}
