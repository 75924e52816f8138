import {halfBandTaps, rateDoubler, rateHalver, type RateChange} from "./half-band.ts";

/** A stream's way to a higher rate and back. */
export type Oversampler = Readonly<{
  factor: number;
  /** How late the stream comes back, in samples of the lower rate: a whole number. */
  latency: number;
  /** How late each way is alone, in samples of the higher rate. */
  upLatency: number;
  downLatency: number;
  up: RateChange;
  down: RateChange;
}>;

/**
 * Taps of the first, second and every further doubling. At 48 kHz the first passes 20 kHz and stops what folds under it from
 * 28 kHz on; the others may take their time, for what they must stop lies an octave and more away.
 */
const tapsOf = (doubling: number): number => [24, 8][doubling] ?? 6;

/**
 * Doubles a stream's rate until it is `factor` times as high, and halves it back.
 *
 * @param longest numbers of a block at the lower rate
 * @param between numbers of the higher rate by which the stream is late between the way up and the way back
 * @throws {RangeError} if the factor is not 1, 2, 4, 8, 16, 32 or 64
 */
export function oversampler(factor: number, longest: number, between = 0): Oversampler {
  const doublings = Math.log2(factor);
  if (!(Number.isInteger(doublings) && doublings >= 0 && doublings <= 6))
    throw new RangeError(`oversampling must be 1, 2, 4, 8, 16, 32 or 64, got ${factor}`);
  const filters = Array.from({length: doublings}, (_, k) => halfBandTaps(tapsOf(k)));
  const ups = filters.map((taps, k) => rateDoubler(taps, longest * 2 ** k));
  const downs = filters.map((taps, k) => rateHalver(taps, longest * 2 ** (k + 1))).reverse();
  // Each doubling is late by 2·taps − 1 samples of its own rate, and so is the halving that answers it.
  const downLatency = filters.reduce((total, taps, k) => total + (2 * taps.length - 1) * 2 ** (doublings - k - 1), 0);
  const latency = Math.ceil((2 * downLatency + between) / factor);
  const upLatency = latency * factor - downLatency - between;
  const wait = delayLine(upLatency - downLatency, longest * factor);
  return {
    factor,
    latency,
    upLatency,
    downLatency,
    up(block, count) {
      let inner = block;
      ups.forEach((double, k) => (inner = double(inner, count * 2 ** k)));
      return wait(inner, count * factor);
    },
    down(block, count) {
      let outer = block;
      downs.forEach((halve, k) => (outer = halve(outer, count / 2 ** k)));
      return outer;
    },
  };
}

function delayLine(delay: number, longest: number): RateChange {
  if (delay === 0) return (block) => block;
  const line = new Float64Array(delay + longest);
  const out = new Float64Array(longest);
  return (block, count) => {
    line.set(block.subarray(0, count), delay);
    out.set(line.subarray(0, count));
    line.copyWithin(0, count, count + delay);
    return out;
  };
}
