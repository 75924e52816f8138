import {biquad, prototype} from "./biquad.ts";
import type {Biquad} from "./biquad.ts";

/** ITU-R BS.1770-5, Annex 1, tables 1 and 2: the shelf for the head and the high-pass, as printed for 48 kHz. */
const printed: readonly Biquad[] = [
  {b0: 1.53512485958697, b1: -2.69169618940638, b2: 1.19839281085285, a1: -1.69065929318241, a2: 0.73248077421585},
  {b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621},
];

const printedRateHz = 48000;

/**
 * The K-weighting filters at a sample rate: two, one after the other.
 *
 * The Recommendation prints them for 48 kHz only and asks for "the same frequency response" at other rates. So the
 * continuous-time filters are worked back from the printed figures and sampled anew: at 48 kHz the printed figures
 * themselves come out, elsewhere the same low, band and high gains about the same frequencies.
 */
export function kWeighting(sampleRateHz: number): readonly Biquad[] {
  if (sampleRateHz === printedRateHz) return printed;
  return printed.map((filter) => biquad(prototype(filter, printedRateHz), sampleRateHz));
}
