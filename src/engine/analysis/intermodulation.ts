import {harmonicAt} from "./harmonics.ts";

/** Ratios of voltage: 0.1 is 10 %. All are 0 for silence, Infinity without the upper tone. */
export type Intermodulation = Readonly<{
  /** Sidebands about the upper tone, of second and third order, over that tone. */
  modulationSecond: number;
  modulationThird: number;
  /** The difference tone, and the two third-order tones beside the pair, over twice the upper tone. */
  differenceSecond: number;
  differenceThird: number;
}>;

/**
 * Intermodulation of two tones, from one whole cycle of their common period.
 *
 * @param low which harmonic of the common period the lower tone is: 3 for 60 Hz in a period of 1/20 s
 * @param high which one the upper tone is
 * @throws {RangeError} if low is not below high, or the cycle is too short for high + 2·low and 2·high − low
 *
 * Source: IEC 60268-3 as quoted in tests/reference/published/08_intermodulation.json: pairs add arithmetically.
 */
export function intermodulationOf(cycle: Float64Array, low: number, high: number): Intermodulation {
  if (!(low >= 1 && low < high))
    throw new RangeError(`the lower tone must lie below the upper, got ${low} and ${high}`);
  // A difference of 0 is the steady part, which is no product that one hears.
  const at = (harmonic: number) => (harmonic === 0 ? 0 : harmonicAt(cycle, Math.abs(harmonic)).amplitude);
  const upper = at(high);
  const over = (products: number, reference: number) => (products === 0 ? 0 : products / reference);
  return {
    modulationSecond: over(at(high - low) + at(high + low), upper),
    modulationThird: over(at(high - 2 * low) + at(high + 2 * low), upper),
    differenceSecond: over(at(high - low), 2 * upper),
    differenceThird: over(at(2 * low - high) + at(2 * high - low), 2 * upper),
  };
}
