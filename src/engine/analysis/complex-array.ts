/** Complex numbers side by side. */
export type ComplexArray = Readonly<{re: Float64Array; im: Float64Array}>;

/** Level of each number in decibels, 20·log10 of its modulus. */
export function magnitudeDb({re, im}: ComplexArray): Float64Array {
  return re.map((real, k) => 20 * Math.log10(Math.hypot(real, im[k] ?? 0)));
}

/** Modulus of each number. */
export function magnitude({re, im}: ComplexArray): Float64Array {
  return re.map((real, k) => Math.hypot(real, im[k] ?? 0));
}

/** Angle of each number in degrees, unwrapped: each step is the shorter way round, starting within ±180°. */
export function phaseDegrees({re, im}: ComplexArray): Float64Array {
  const degrees = re.map((real, k) => (Math.atan2(im[k] ?? 0, real) * 180) / Math.PI);
  for (let k = 1; k < degrees.length; k++) {
    const step = (degrees[k] ?? 0) - (degrees[k - 1] ?? 0);
    degrees[k] = (degrees[k] ?? 0) - 360 * Math.round(step / 360);
  }
  return degrees;
}
