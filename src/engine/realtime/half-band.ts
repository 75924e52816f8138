/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {kaiser} from "../sound/kaiser.ts";
import {compiledFilter} from "./compiled/compiled-filter.ts";

/**
 * Right half of a half-band low-pass filter, the taps at offsets 1, 3, 5 …; the middle tap is ½ and all others are 0.
 *
 * `taps`: how many; the filter is 4·taps − 1 long. Windowed with Kaiser's window, side lobes about −110 dB.
 *
 * Method: Crochiere and Rabiner, Multirate Digital Signal Processing (1983), ch. 3; Kaiser's β for 110 dB [both from memory].
 */
export function halfBandTaps(taps: number): Float64Array {
  const beta = 0.1102 * (110 - 8.7);
  const reach = 2 * taps;
  const raw = Float64Array.from({length: taps}, (_, k) => {
    const offset = 2 * k + 1;
    const sinc = Math.sin((Math.PI * offset) / 2) / (Math.PI * offset);
    return sinc * kaiser(offset / reach, beta);
  });
  const sum = raw.reduce((total, tap) => total + tap, 0);
  return raw.map((tap) => (tap * 0.25) / sum);
}

/** Turns the first `count` numbers of a block into twice or half as many; the array it returns is its own, used again. */
export type RateChange = (block: Float64Array, count: number) => Float64Array;

/** Doubles the rate of a stream, 2·taps − 1 samples of the new rate late. Blocks have up to `longest` numbers. */
export function rateDoubler(taps: Float64Array, longest: number): RateChange {
  const past = 2 * taps.length - 1;
  const {line, out, run} = compiledFilter("doubles", taps, past, longest) ?? writtenOut(past, longest, 2 * longest);
  return (block, count) => {
    line.set(block.subarray(0, count), past);
    if (run) run(count);
    else double(taps, line, out, count);
    line.copyWithin(0, count, count + past);
    return out;
  };
}

/** Halves the rate of a stream, 2·taps − 1 samples of the old rate late. `count` is even, blocks have up to `longest`. */
export function rateHalver(taps: Float64Array, longest: number): RateChange {
  const past = 4 * taps.length - 2;
  const {line, out, run} = compiledFilter("halves", taps, past, longest) ?? writtenOut(past, longest, longest / 2);
  return (block, count) => {
    line.set(block.subarray(0, count), past);
    if (run) run(count / 2);
    else halve(taps, line, out, count);
    line.copyWithin(0, count, count + past);
    return out;
  };
}

/** Room for a filter that has no machine code. */
function writtenOut(past: number, longest: number, outLength: number) {
  return {line: new Float64Array(past + longest), out: new Float64Array(outLength), run: undefined};
}

function double(taps: Float64Array, line: Float64Array, out: Float64Array, count: number): void {
  for (let n = 0; n < count; n++) {
    // Between two samples of the old rate lies a sum; on each of them, the sample itself.
    let sum = 0;
    for (let k = 0, left = n + taps.length - 1, right = left + 1; k < taps.length; k++)
      sum += taps[k]! * (line[left--]! + line[right++]!);
    out[2 * n] = 2 * sum;
    out[2 * n + 1] = line[n + taps.length]!;
  }
}

function halve(taps: Float64Array, line: Float64Array, out: Float64Array, count: number): void {
  for (let n = 0; n < count / 2; n++) {
    const middle = 2 * n + 2 * taps.length - 1;
    let sum = 0.5 * line[middle]!;
    for (let k = 0, left = middle - 1, right = middle + 1; k < taps.length; k++, left -= 2, right += 2)
      sum += taps[k]! * (line[left]! + line[right]!);
    out[n] = sum;
  }
}
