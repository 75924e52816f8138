/** What a slow sweep passes: from below the low E to above what a loudspeaker plays. */
const [lowestHz, highestHz] = [40, 10_000];
export const sweepSeconds = 12;
const fadeSeconds = 0.05;

/** Frequency of the sweep so many seconds after its start, in hertz. */
export function sweepHz(seconds: number): number {
  return lowestHz * (highestHz / lowestHz) ** Math.min(1, Math.max(0, seconds / sweepSeconds));
}

/**
 * A sine of peak 1 that rises from 40 Hz to 10 kHz, every octave in the same time; both ends faded, so that it can go round.
 *
 * Method: exponential sweep, phase 2π·f1·T/ln(f2/f1)·(e^(t·ln(f2/f1)/T) − 1): Farina, 108th AES Convention (2000) [from memory].
 */
export function sweepSamples(sampleRateHz: number): Float32Array {
  const rise = Math.log(highestHz / lowestHz);
  const turns = (lowestHz * sweepSeconds) / rise;
  const length = Math.round(sweepSeconds * sampleRateHz);
  const sweep = new Float32Array(length);
  for (let n = 0; n < length; n++) {
    const seconds = n / sampleRateHz;
    const fade = Math.min(1, seconds / fadeSeconds, (length - n) / sampleRateHz / fadeSeconds);
    sweep[n] = fade * Math.sin(2 * Math.PI * turns * Math.expm1((rise * seconds) / sweepSeconds));
  }
  return sweep;
}
