import {seededNoise} from "./seeded-noise.ts";

/** How one string is picked. Times and fractions are of the real string, so that the sample rate changes nothing. */
export type Pluck = Readonly<{
  frequencyHz: number;
  /** 0 soft to 1 hard: how loud, and how bright. */
  strength: number;
  /** Where the pick meets the string and where the pickup listens, as fractions of its length from the bridge. */
  pickPosition: number;
  pickupPosition: number;
  /** Seconds until the fundamental, and a partial at 3 kHz, have fallen by 60 dB. */
  fundamentalSeconds: number;
  trebleSeconds: number;
  /** How much of the pluck is noise, 0 to 1; the rest is the kink of an ideal string. */
  roughness: number;
  seed: number;
}>;

const trebleHz = 3000;
const highestHz = 16000; // of the pluck; little above it is heard
const warmUp = 256; // samples: the loop filter's slowest pole, 0.95, has forgotten where it began

/**
 * The voltage of a pickup over a plucked string, in no particular unit: string velocity where the pickup sits.
 *
 * A delay line one period long goes round through a loop filter, as Karplus and Strong (Computer Music Journal 7(2),
 * 43–55, 1983) have it; from Jaffe and Smith (the same issue, 56–69): an all-pass tunes it between samples, a loss
 * sets the decay of the fundamental, pick position and dynamics shape the pluck. Their two-point average leaves low
 * strings ringing too bright at today's sample rates, so the loop filter is a one-pole low-pass set by a second decay
 * time (common practice, no published source here).
 *
 * @throws {RangeError} if the string's frequency is above a tenth of the sample rate
 */
export function pluckedString(pluck: Pluck, length: number, sampleRateHz: number): Float64Array {
  const {frequencyHz, fundamentalSeconds, trebleSeconds} = pluck;
  if (!(frequencyHz > 0 && frequencyHz <= sampleRateHz / 10)) {
    throw new RangeError(
      `a string at ${sampleRateHz} Hz must lie between 0 and ${sampleRateHz / 10} Hz, got ${frequencyHz} Hz`,
    );
  }
  const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const wTreble = (2 * Math.PI * Math.max(trebleHz, 2 * frequencyHz)) / sampleRateHz;
  const wantedLoss = loopGain(frequencyHz, trebleSeconds) / loopGain(frequencyHz, fundamentalSeconds);
  const pole = poleFor(Math.min(1, wantedLoss), w, wTreble);
  const loss = loopGain(frequencyHz, fundamentalSeconds) / onePoleGain(pole, w);

  const filterDelay = Math.atan2(pole * Math.sin(w), 1 - pole * Math.cos(w)) / w;
  const {whole, coefficient: C} = tuning(sampleRateHz / frequencyHz - filterDelay, w);

  // The string moves on from what it did just before, so that the loop filter's start makes no step that goes round.
  const shape = pluckShape(pluck, warmUp + whole, sampleRateHz);
  const line = shape.subarray(warmUp);
  const out = new Float64Array(length);
  let low = 0;
  let before = 0;
  let tuned = 0;
  for (const y of shape.subarray(0, warmUp)) {
    low = (1 - pole) * y * loss + pole * low;
    tuned = C * low + before - C * tuned;
    before = low;
  }
  for (let i = 0, at = 0; i < length; i++) {
    const y = line[at] as number;
    out[i] = y;
    low = (1 - pole) * y * loss + pole * low;
    tuned = C * low + before - C * tuned;
    before = low;
    line[at] = tuned;
    at = at + 1 === whole ? 0 : at + 1;
  }
  addPickNoise(out, pluck, sampleRateHz);
  return out;
}

/** The scrape of the pick: a burst of noise, its lows taken out by a difference; common practice, no published source. */
function addPickNoise(out: Float64Array, {strength, roughness, seed}: Pluck, sampleRateHz: number): void {
  const noise = seededNoise(seed + 500_000);
  const decay = Math.exp(-1 / (0.002 * sampleRateHz));
  let size = 0.06 * roughness * strength ** 2;
  let before = 0;
  for (let i = 0; i < out.length && size > 1e-7; i++) {
    const x = noise();
    out[i] = (out[i] as number) + size * (x - before);
    before = x;
    size *= decay;
  }
}

/** What one trip round the loop leaves, so that 60 dB are gone after `seconds` (Jaffe and Smith 1983). */
export const loopGain = (frequencyHz: number, seconds: number): number => 0.001 ** (1 / (frequencyHz * seconds));

/**
 * A delay in samples as a whole number and an all-pass (C + z⁻¹)/(1 + C·z⁻¹) whose phase delay at `w` radians a sample
 * is exactly the rest, kept between 0.1 and 1.1 so that C stays clear of 1 (Jaffe and Smith 1983).
 */
export function tuning(delay: number, w: number): {whole: number; coefficient: number} {
  const whole = Math.floor(delay - 0.1);
  const rest = delay - whole;
  return {whole, coefficient: Math.sin((w - w * rest) / 2) / Math.sin((w + w * rest) / 2)};
}

const onePoleGain = (pole: number, w: number) => (1 - pole) / Math.sqrt(1 - 2 * pole * Math.cos(w) + pole * pole);

/** The pole whose low-pass loses `ratio` between two frequencies; found by halving, 40 times. */
function poleFor(ratio: number, w: number, wTreble: number): number {
  let [low, high] = [0, 0.95];
  for (let i = 0; i < 40; i++) {
    const pole = (low + high) / 2;
    if (onePoleGain(pole, wTreble) / onePoleGain(pole, w) > ratio) low = pole;
    else high = pole;
  }
  return (low + high) / 2;
}

/**
 * String velocity about the moment the pick lets go, `warmUp` samples before it and a period after, as a sum of partials.
 *
 * Karplus and Strong fill the line with noise. Here the noise is written by its partials, so that the pick's place
 * (a comb that misses every partial with a node there) and the pickup's act exactly, at any pitch and rate.
 */
function pluckShape(pluck: Pluck, length: number, sampleRateHz: number): Float64Array {
  const {frequencyHz, strength, pickPosition, pickupPosition, roughness, seed} = pluck;
  const noise = seededNoise(seed);
  // Jaffe and Smith's dynamics low-pass: hard is bright. Its corners are common practice, no published source.
  const softnessHz = 900 * 2 ** (3 * strength);
  const shape = new Float64Array(length);
  for (let k = 1; k * frequencyHz < Math.min(highestHz, 0.45 * sampleRateHz); k++) {
    const kink = (Math.sin(Math.PI * k * pickPosition) * Math.sin(Math.PI * k * pickupPosition)) / k;
    const dull = 1 / (1 + ((k * frequencyHz) / softnessHz) ** 2);
    const size = strength * kink * dull * (1 + 0.6 * roughness * noise());
    const phase = Math.PI * roughness * noise();
    const step = (2 * Math.PI * k * frequencyHz) / sampleRateHz;
    // A cosine by turning a phasor: one turn a sample, which costs far less than Math.cos.
    const [turnRe, turnIm] = [Math.cos(step), Math.sin(step)];
    let re = size * Math.cos(phase - warmUp * step);
    let im = size * Math.sin(phase - warmUp * step);
    for (let i = 0; i < length; i++) {
      shape[i] = (shape[i] as number) + re;
      const next = re * turnRe - im * turnIm;
      im = re * turnIm + im * turnRe;
      re = next;
    }
  }
  return shape;
}
