/** Root of the mean square, in the samples' own unit; 0 for no samples. */
export function rms(samples: Float64Array): number {
  if (samples.length === 0) return 0;
  return Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);
}

/** Peak over RMS in decibels: 0 for a square, 3.01 for a sine, and 0 for silence. */
export function crestFactorDb(samples: Float64Array): number {
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return peak > 0 ? 20 * Math.log10(peak / rms(samples)) : 0;
}
