import {filtered} from "./biquad.ts";
import {kWeighting} from "./k-weighting.ts";
import type {Samples} from "./samples.ts";

const absoluteGate = -70; // LUFS
const relativeGate = -10; // LU, below the mean of what passed the absolute gate

const loudness = (meanSquare: number) => -0.691 + 10 * Math.log10(meanSquare);

/**
 * Loudness of each whole 400 ms block, one starting every 100 ms, in LUFS; −∞ for a silent block.
 *
 * One channel of weight 1: the same signal in two channels would read 3.01 LU more. Samples are in full scale.
 * A block that holds something that is not a number reads NaN, and so does every later one.
 *
 * Method: ITU-R BS.1770-5 (2023), Annex 1; the momentary loudness of EBU Tech 3341 is the same window.
 */
export function momentaryLoudness(samples: Samples, sampleRateHz: number): Float64Array {
  return meanSquares(samples, sampleRateHz).map(loudness);
}

/**
 * Loudness of the whole, gated, in LUFS; −∞ where no block passes the absolute gate (silence, or less than 400 ms).
 *
 * One channel of weight 1; samples are in full scale. Blocks that are not numbers are passed over.
 *
 * Method: ITU-R BS.1770-5 (2023), Annex 1: absolute gate −70 LUFS, relative gate 10 LU below the mean of the rest.
 */
export function integratedLoudness(samples: Samples, sampleRateHz: number): number {
  const audible = meanSquares(samples, sampleRateHz).filter((square) => loudness(square) > absoluteGate);
  if (audible.length === 0) return -Infinity;
  const gate = loudness(mean(audible)) + relativeGate;
  return loudness(mean(audible.filter((square) => loudness(square) > gate)));
}

const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;

function meanSquares(samples: Samples, sampleRateHz: number): Float64Array {
  const weighted = filtered(samples, kWeighting(sampleRateHz));
  const blockLength = Math.round(0.4 * sampleRateHz);
  const count = Math.floor((weighted.length - blockLength) / (0.1 * sampleRateHz)) + 1;
  return Float64Array.from({length: Math.max(0, count)}, (_, block) => {
    const start = Math.round(block * 0.1 * sampleRateHz);
    let sum = 0;
    for (let i = start; i < start + blockLength; i++) sum += (weighted[i] ?? 0) ** 2;
    return sum / blockLength;
  });
}
