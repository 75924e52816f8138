import {biquad} from "./biquad.ts";
import type {Biquad, Prototype} from "./biquad.ts";

/**
 * A plain guitar loudspeaker in its box, as filters: nothing under about 80 Hz, a gentle rise in the presence region,
 * and a steep end above about 5 kHz. It stands for no particular loudspeaker; figures: common practice, no published
 * source.
 */
const loudspeaker: readonly Prototype[] = [
  {frequencyHz: 80, Q: 0.8, low: 0, band: 0, high: 1}, // the box: second-order high-pass
  peak(2500, 0.9, 3), // the cone breaking up
  {frequencyHz: 4800, Q: 0.9, low: 1, band: 0, high: 0}, // the end of the cone: fourth-order low-pass
  {frequencyHz: 5200, Q: 0.7, low: 1, band: 0, high: 0},
];

/** A rise of `gainDb` about a frequency. */
function peak(frequencyHz: number, Q: number, gainDb: number): Prototype {
  return {frequencyHz, Q, low: 1, band: 10 ** (gainDb / 20) / Q, high: 1};
}

/** The loudspeaker's roll-off at a sample rate, to be run with `filtered` and drawn with `filterGainDb`. */
export function loudspeakerFilters(sampleRateHz: number): readonly Biquad[] {
  return loudspeaker.map((prototype) => biquad(prototype, sampleRateHz));
}
