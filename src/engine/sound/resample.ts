import {kaiser} from "./kaiser.ts";
import type {Samples} from "./samples.ts";

const crossings = 32; // of the sinc, each side
const stepsPerCrossing = 512;
const beta = 9; // Kaiser window: side lobes about −90 dB

/** The windowed sinc's right half, one entry a step; made once. */
const kernel = Float64Array.from({length: crossings * stepsPerCrossing + 2}, (_, i) => {
  const x = i / stepsPerCrossing;
  const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
  return sinc * kaiser(x / crossings, beta);
});

/**
 * The same sound at another sample rate: band-limited, pitch and level kept.
 *
 * Frequencies up to 94 % of half the lower rate pass unchanged; what the new rate can't hold is taken away.
 * `loop`: whether the sound goes round (its end is followed by its start); otherwise silence lies beyond both ends.
 *
 * @returns round(length · toHz / fromHz) samples
 * @throws {RangeError} if a rate is not positive
 *
 * Method: windowed-sinc interpolation (Smith and Gossett, ICASSP 1984) with a Kaiser window [cited from memory].
 */
export function resample(
  samples: Samples,
  fromHz: number,
  toHz: number,
  {loop = false}: {loop?: boolean} = {},
): Float32Array {
  if (!(fromHz > 0 && toHz > 0 && fromHz + toHz < Infinity)) {
    throw new RangeError(`sample rates must be positive, got ${fromHz} Hz and ${toHz} Hz`);
  }
  if (fromHz === toHz) return Float32Array.from(samples);
  const count = samples.length;
  // The cutoff as a fraction of the input's rate, doubled; the margin leaves room for the filter's slope.
  const cutoff = Math.min(1, toHz / fromHz) * 0.97;
  const reach = crossings / cutoff;
  const stepsPerSample = stepsPerCrossing * cutoff;
  const length = Math.round((count * toHz) / fromHz);
  // A loop's length is seldom a whole number at both rates: stretch by that fraction of a sample to close it.
  const advance = loop ? count / length : fromHz / toHz;
  const out = new Float32Array(length);
  for (let n = 0; n < length; n++) {
    const centre = n * advance;
    let sum = 0;
    for (let i = Math.ceil(centre - reach); i <= centre + reach; i++) {
      const at = loop ? ((i % count) + count) % count : i;
      const x = samples[at];
      if (x === undefined) continue;
      const position = Math.abs(centre - i) * stepsPerSample;
      const step = Math.floor(position);
      const low = kernel[step] as number;
      sum += x * (low + (position - step) * ((kernel[step + 1] as number) - low));
    }
    out[n] = sum * cutoff;
  }
  return out;
}
