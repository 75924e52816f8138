import {amplitude, scaled} from "./samples.ts";
import type {Samples} from "./samples.ts";
import {ceilingDb} from "./volts.ts";

/** A limiter that runs on, block after block: what goes in comes out `delaySamples` later. */
export type Limiter = Readonly<{delaySamples: number; run: (block: Float32Array) => void}>;

export type LimiterOptions = Readonly<{
  /** The level that no sample passes, in decibels of full scale; −1 by default. */
  ceilingDb?: number;
  /** How far ahead it looks, in seconds; 3 ms by default. Shorter bends low notes, longer delays the sound. */
  lookAheadSeconds?: number;
  /** Time constant of letting go again, in seconds; 80 ms by default. */
  releaseSeconds?: number;
}>;

/**
 * A look-ahead limiter: the gain falls in a straight line to where the coming peak just meets the ceiling, and comes
 * back slowly. `run` writes over the block it is given and allocates nothing.
 *
 * No input can pass the ceiling: a sample that is not a finite number is silence, and the result is clamped at last. It is samples
 * that are held, not what a converter draws between them: the true peak of a pedal played 20 dB too loud lies up to 1.1 dB above the
 * ceiling, that of hard noise 5 to 6 dB. No sound that is matched in loudness comes near either.
 *
 * Method: smallest wanted gain over the window (monotonic queue), then a moving average of the same length, so that
 * the gain has arrived when the peak comes out; common practice, no published source.
 */
export function limiter(sampleRateHz: number, options: LimiterOptions = {}): Limiter {
  const {lookAheadSeconds = 0.003, releaseSeconds = 0.08} = options;
  // A hair below the ceiling, so that rounding to single precision stays under it too.
  const ceiling = amplitude(options.ceilingDb ?? ceilingDb) * (1 - 1e-7);
  const length = Math.max(1, Math.round(lookAheadSeconds * sampleRateHz));
  const release = 1 - Math.exp(-1 / (releaseSeconds * sampleRateHz));

  const delayed = new Float64Array(length);
  const averaged = new Float64Array(length).fill(1);
  // The queue holds the times and gains that may still become the smallest of the window, gains ascending. The window
  // is one longer than the average: every gain in the average then knows of the sample that comes out.
  const room = length + 2;
  const times = new Float64Array(room);
  const gains = new Float64Array(room);
  let head = 0;
  let queued = 0;
  let sum = length;
  let held = 1;
  let time = 0;

  function gainFor(magnitude: number): number {
    const wanted = magnitude > ceiling ? ceiling / magnitude : 1;
    while (queued > 0 && (gains[(head + queued - 1) % room] as number) >= wanted) queued--;
    times[(head + queued) % room] = time;
    gains[(head + queued) % room] = wanted;
    queued++;
    if ((times[head] as number) < time - length) {
      head = (head + 1) % room;
      queued--;
    }
    const smallest = gains[head] as number;
    held = smallest < held ? smallest : held + (smallest - held) * release;
    const slot = time % length;
    sum += held - (averaged[slot] as number);
    averaged[slot] = held;
    // The running sum would gather rounding over hours: take it afresh once a turn.
    if (slot === 0) sum = averaged.reduce((total, gain) => total + gain, 0);
    return sum / length;
  }

  return {
    delaySamples: length,
    run(block) {
      for (let i = 0; i < block.length; i++) {
        const given = block[i] as number;
        const x = Number.isFinite(given) ? given : 0;
        const gain = gainFor(Math.abs(x));
        const slot = time % length;
        const y = (delayed[slot] as number) * gain;
        delayed[slot] = x;
        block[i] = Math.max(-ceiling, Math.min(ceiling, y));
        time++;
      }
    },
  };
}

/** `samples` through the limiter, in step with the input (its delay taken out); a new array of the same length. */
export function limited(samples: Samples, sampleRateHz: number, options: LimiterOptions = {}): Float32Array {
  const {delaySamples, run} = limiter(sampleRateHz, options);
  const padded = new Float32Array(samples.length + delaySamples);
  padded.set(scaled(samples, 1));
  run(padded);
  return padded.slice(delaySamples);
}
