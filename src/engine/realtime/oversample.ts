/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
/** Taps of the interpolation filter for each sample of the lower rate. */
const tapsPerPhase = 32;
const beta = 8; // Kaiser window: side lobes near −80 dB

const filters = new Map<number, Float64Array>();

/** Low-pass at half the lower rate, `factor · tapsPerPhase` taps, gain 1 at 0 Hz, symmetric about its middle. */
function filterFor(factor: number): Float64Array {
  const known = filters.get(factor);
  if (known) return known;
  const length = factor * tapsPerPhase + 1;
  const middle = (length - 1) / 2;
  const taps = Float64Array.from({length}, (_, k) => {
    const x = (k - middle) / factor;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    return (sinc * besselI0(beta * Math.sqrt(Math.max(0, 1 - ((k - middle) / middle) ** 2)))) / besselI0(beta);
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  const filter = taps.map((tap) => tap / sum);
  filters.set(factor, filter);
  return filter;
}

/**
 * The signal at `factor` times its rate, nothing added above half the old one. Sample k·factor lies over sample k: the
 * filter's delay is taken off. Silence lies beyond both ends.
 *
 * Method: polyphase windowed sinc (Crochiere and Rabiner, Multirate Digital Signal Processing, 1983) [from memory].
 */
export function upsample(signal: Float64Array, factor: number): Float64Array {
  if (factor === 1) return Float64Array.from(signal);
  const filter = filterFor(factor);
  const middle = (filter.length - 1) / 2;
  const out = new Float64Array(signal.length * factor);
  for (let n = 0; n < out.length; n++) {
    // Only every `factor`-th tap meets a sample: those k with (n + middle − k) a multiple of the factor.
    let sum = 0;
    const first = (n + middle) % factor;
    for (let k = first, i = (n + middle - first) / factor; k < filter.length; k += factor, i--) {
      if (i >= 0 && i < signal.length) sum += filter[k]! * signal[i]!; // both inside
    }
    out[n] = sum * factor;
  }
  return out;
}

/** The signal at its rate divided by `factor`: what the lower rate can't hold is taken away first. No delay. */
export function downsample(signal: Float64Array, factor: number): Float64Array {
  if (factor === 1) return Float64Array.from(signal);
  const filter = filterFor(factor);
  const middle = (filter.length - 1) / 2;
  return Float64Array.from({length: Math.floor(signal.length / factor)}, (_, n) => {
    const from = n * factor - middle;
    let sum = 0;
    for (let k = Math.max(0, -from); k < Math.min(filter.length, signal.length - from); k++) {
      sum += filter[k]! * signal[from + k]!; // both inside
    }
    return sum;
  });
}

function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
