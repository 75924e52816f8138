/** A run of samples, mono, in full scale (1 is the loudest a converter can play) or in volts where said. */
export type Samples = Float32Array | Float64Array;

/** The amplitude ratio of a level in decibels. */
export const amplitude = (decibels: number): number => 10 ** (decibels / 20);

/** The level of an amplitude ratio in decibels; −∞ for nothing. */
export const decibels = (ratio: number): number => 20 * Math.log10(Math.abs(ratio));

/** The largest magnitude; 0 for no samples. A sample that is no number counts as silence. */
export function peak(samples: Samples): number {
  let largest = 0;
  for (let n = 0; n < samples.length; n++) {
    const size = Math.abs(samples[n] as number);
    if (size > largest) largest = size;
  }
  return largest;
}

/** `samples` times `gain`, as a new array; what is not a finite number becomes 0. */
export function scaled(samples: Samples, gain: number): Float32Array {
  // A loop: `Float32Array.from` with a function takes some 150 ns a sample, which is most of a phrase's time.
  const out = new Float32Array(samples.length);
  for (let n = 0; n < out.length; n++) {
    const x = (samples[n] as number) * gain;
    out[n] = Number.isFinite(x) ? x : 0;
  }
  return out;
}

/**
 * One channel from several: their mean, so that equal channels keep their level.
 *
 * @throws {RangeError} if there is no channel, or their lengths differ
 */
export function mono(channels: readonly Samples[]): Float32Array {
  const [first] = channels;
  if (first === undefined) throw new RangeError("a mono mix needs at least one channel");
  const mix = new Float32Array(first.length);
  for (const channel of channels) {
    if (channel.length !== mix.length) {
      throw new RangeError(`channels must have one length, got ${mix.length} and ${channel.length}`);
    }
    for (let i = 0; i < mix.length; i++) mix[i] = (mix[i] as number) + (channel[i] as number) / channels.length;
  }
  return mix;
}
