/** Parts of a periodic signal: `amplitude[k]` in volts of peak, [0] the steady part, [1] the fundamental. */
export type Harmonics = Readonly<{amplitude: Float64Array; phaseDegrees: Float64Array}>;

/**
 * Harmonics 0 to `count` (20 by default) of one whole cycle of equally spaced samples, as amplitude·cos(2π·k·t/T + phase).
 *
 * A plain sine that starts at its rising zero has phase −90°. The steady part keeps its sign. Where an amplitude is below
 * rounding, its phase means nothing.
 *
 * @throws {RangeError} if the cycle has fewer than 2·count + 1 samples, which can't tell so many harmonics apart
 *
 * Method: the discrete Fourier transform, term by term, exact for a signal with nothing above half the samples.
 */
export function harmonicsOf(cycle: Float64Array, count = 20): Harmonics {
  const {length} = cycle;
  if (!(Number.isInteger(count) && count >= 0 && length > 2 * count)) {
    throw new RangeError(`${count} harmonics need ${2 * count + 1} samples of a cycle and more, got ${length}`);
  }
  const each = Array.from({length: count + 1}, (_, k) => harmonicAt(cycle, k));
  return {
    amplitude: Float64Array.from(each, ({amplitude}) => amplitude),
    phaseDegrees: Float64Array.from(each, ({phaseDegrees}) => phaseDegrees),
  };
}

/**
 * One harmonic of a cycle, as `harmonicsOf` has it, without the others: for the few products of two tones among thousands.
 *
 * @throws {RangeError} if the cycle has fewer than 2·harmonic + 1 samples
 */
export function harmonicAt(cycle: Float64Array, harmonic: number): Readonly<{amplitude: number; phaseDegrees: number}> {
  const {length} = cycle;
  if (!(Number.isInteger(harmonic) && harmonic >= 0 && length > 2 * harmonic))
    throw new RangeError(`harmonic ${harmonic} needs ${2 * harmonic + 1} samples of a cycle and more, got ${length}`);
  const {cosine, sine} = circle(length);
  let [re, im] = [0, 0];
  for (let n = 0, at = 0; n < length; n++) {
    const x = cycle[n] as number;
    re += x * (cosine[at] as number);
    im -= x * (sine[at] as number);
    at += harmonic;
    if (at >= length) at -= length;
  }
  if (harmonic === 0) return {amplitude: re / length, phaseDegrees: 0};
  return {amplitude: (2 * Math.hypot(re, im)) / length, phaseDegrees: (Math.atan2(im, re) * 180) / Math.PI};
}

type Circle = Readonly<{cosine: Float64Array; sine: Float64Array}>;
let latest: Circle | undefined;

/** Points of the unit circle; kept for the next cycle of the same length, as a dragged slider asks for it again. */
function circle(length: number): Circle {
  if (latest?.cosine.length === length) return latest;
  const angle = (_: unknown, n: number) => (2 * Math.PI * n) / length;
  latest = {
    cosine: Float64Array.from({length}, (_, n) => Math.cos(angle(_, n))),
    sine: Float64Array.from({length}, (_, n) => Math.sin(angle(_, n))),
  };
  return latest;
}
