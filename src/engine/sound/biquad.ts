import type {Samples} from "./samples.ts";

/** y[n] = b0·x[n] + b1·x[n−1] + b2·x[n−2] − a1·y[n−1] − a2·y[n−2] */
export type Biquad = Readonly<{b0: number; b1: number; b2: number; a1: number; a2: number}>;

/**
 * A second-order filter in continuous time, written about its own frequency:
 * H(s) = (high·s² + band·s·w + low·w²) / (s² + s·w/Q + w²) with w = 2π·frequencyHz.
 */
export type Prototype = Readonly<{frequencyHz: number; Q: number; low: number; band: number; high: number}>;

/**
 * The prototype at a sample rate, by the bilinear transform warped so that it is exact at the prototype's frequency.
 *
 * A frequency above 45 % of the sample rate is drawn down to it: the filter then does what little the rate can hold.
 */
export function biquad({frequencyHz, Q, low, band, high}: Prototype, sampleRateHz: number): Biquad {
  const K = Math.tan((Math.PI * Math.min(frequencyHz, 0.45 * sampleRateHz)) / sampleRateHz);
  const a0 = 1 + K / Q + K * K;
  return {
    b0: (high + band * K + low * K * K) / a0,
    b1: (2 * (low * K * K - high)) / a0,
    b2: (high - band * K + low * K * K) / a0,
    a1: (2 * (K * K - 1)) / a0,
    a2: (1 - K / Q + K * K) / a0,
  };
}

/** The prototype of which `biquad` would make this filter at this rate: the transform run backwards. */
export function prototype({b0, b1, b2, a1, a2}: Biquad, sampleRateHz: number): Prototype {
  const a0 = 4 / (1 - a1 + a2);
  const K = Math.sqrt((1 + a1 + a2) / (1 - a1 + a2));
  return {
    frequencyHz: (sampleRateHz / Math.PI) * Math.atan(K),
    Q: (2 * K) / (a0 * (1 - a2)),
    low: (a0 * (b0 + b1 + b2)) / (4 * K * K),
    band: (a0 * (b0 - b2)) / (2 * K),
    high: (a0 * (b0 - b1 + b2)) / 4,
  };
}

/** `samples` through the filters one after another, starting from rest; a new array of the same length. */
export function filtered(samples: Samples, filters: readonly Biquad[]): Float64Array {
  const out = Float64Array.from(samples);
  for (const {b0, b1, b2, a1, a2} of filters) {
    let s1 = 0;
    let s2 = 0;
    for (let i = 0; i < out.length; i++) {
      const x = out[i] as number;
      const y = b0 * x + s1;
      s1 = b1 * x - a1 * y + s2;
      s2 = b2 * x - a2 * y;
      out[i] = y;
    }
  }
  return out;
}

/** Gain of the filters in a row, in decibels, at each frequency; evaluated on the unit circle. */
export function filterGainDb(
  filters: readonly Biquad[],
  frequenciesHz: Float64Array,
  sampleRateHz: number,
): Float64Array {
  return frequenciesHz.map((frequencyHz) => {
    const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
    const [c1, s1, c2, s2] = [Math.cos(w), Math.sin(w), Math.cos(2 * w), Math.sin(2 * w)];
    let gainDb = 0;
    for (const {b0, b1, b2, a1, a2} of filters) {
      const numerator = (b0 + b1 * c1 + b2 * c2) ** 2 + (b1 * s1 + b2 * s2) ** 2;
      const denominator = (1 + a1 * c1 + a2 * c2) ** 2 + (a1 * s1 + a2 * s2) ** 2;
      gainDb += 10 * Math.log10(numerator / denominator);
    }
    return gainDb;
  });
}
