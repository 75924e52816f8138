/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is brought inside its array */
import {oversampler} from "./oversample.ts";

const factor = 8;
const block = 128;

/**
 * Samples as a voltage over time in seconds, sample n at n/`sampleRateHz`, nothing before the first and after the last.
 *
 * Between the samples it is what the rate can hold and no more: raised eightfold by the half-band filters of live sound, and between
 * eighths the polynomial of fifth order through the six next to it (an error of −104 dB at 20 kHz and 48 kHz, −180 dB at 5 kHz).
 *
 * @param backSeconds how far a question may lie before the latest that was asked
 * @throws {RangeError} from what it returns, for a question further back
 */
export function raisedSignal(
  samples: Float64Array,
  sampleRateHz: number,
  backSeconds: number,
): (seconds: number) => number {
  const {up, upLatency} = oversampler(factor, block);
  const inner = sampleRateHz * factor;
  const length = 2 ** Math.ceil(Math.log2(Math.ceil(backSeconds * inner) + 2 * factor * block));
  const ring = new Float64Array(length);
  const mask = length - 1;
  const input = new Float64Array(block);
  /** Raised samples that are there, counted from the one at 0 s. */
  let made = -upLatency;
  let taken = 0;
  const makeMore = (): void => {
    input.fill(0);
    input.set(samples.subarray(Math.min(taken, samples.length), taken + block));
    taken += block;
    const raised = up(input, block);
    for (let k = 0; k < factor * block; k++) ring[made++ & mask] = raised[k]!;
  };
  return (seconds) => {
    const place = seconds * inner;
    const at = Math.floor(place);
    while (at + 4 > made) makeMore();
    if (at - 2 < made - length) throw new RangeError(`the signal at ${seconds} s is no longer there`);
    const x = place - at;
    // Lagrange's weights for −2 … 3.
    const [a, b, c, d, e] = [x + 2, x + 1, x - 1, x - 2, x - 3];
    const [cd, de] = [c * d, d * e];
    return (
      (ring[(at + 3) & mask]! * a * b * x * cd -
        ring[(at - 2) & mask]! * b * x * cd * e +
        5 * (ring[(at - 1) & mask]! * a * x * cd * e - ring[(at + 2) & mask]! * a * b * x * c * e) +
        10 * (ring[(at + 1) & mask]! * a * b * x * de - ring[at & mask]! * a * b * cd * e)) /
      120
    );
  };
}
