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
export const integratedLoudness = (samples: Samples, sampleRateHz: number): number =>
  gated(meanSquares(samples, sampleRateHz), absoluteGate);

/**
 * Loudness of the whole in LUFS, such that a meter reads `playedLoudness` when the sound is turned up or down by the difference.
 *
 * The absolute gate lies at −70 LUFS of what is played, so that a quiet recording measured as it is loses pauses that are heard
 * once it is turned up: with open chords at 25 mV, 0.6 LU. −∞ where `integratedLoudness` is.
 */
export function loudnessWhenPlayed(samples: Samples, sampleRateHz: number, playedLoudness: number): number {
  const squares = meanSquares(samples, sampleRateHz);
  let found = gated(squares, absoluteGate);
  // Each look moves the gate to where the last one says it lies; blocks near it are few, so that three settle it.
  for (let look = 0; look < 3 && Number.isFinite(found); look++)
    found = gated(squares, absoluteGate + found - playedLoudness);
  return found;
}

function gated(squares: Float64Array, absolute: number): number {
  const audible = squares.filter((square) => loudness(square) > absolute);
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
