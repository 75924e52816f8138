import {equalLoudnessGains} from "../../engine/sound/equal-loudness.ts";
import {amplitude, peak, scaled} from "../../engine/sound/samples.ts";
import {playedLoudness} from "../player/played-loudness.ts";
import type {Rendering} from "../player/rendering.ts";

/** Two sounds that only the circuits tell apart, or a sentence that says why there are none. */
export type FairPair = Readonly<{ok: true; a: Float32Array; b: Float32Array} | {ok: false; message: string}>;

/** Brings two renderings of one phrase to the same loudness by BS.1770, by gain alone: neither meets a limiter. */
export function fairPair(a: Rendering, b: Rendering): FairPair {
  const silent = [a, b].findIndex(({loudness}) => !Number.isFinite(loudness));
  if (silent >= 0) {
    const which = silent === 0 ? "Before" : "Now";
    return {
      ok: false,
      message: `${which} is silent or nearly so: turn it up on its bench, and open the test from there.`,
    };
  }
  if (a.samples.length !== b.samples.length) throw new RangeError("two sounds of one phrase must have one length");
  const [gainA = 0, gainB = 0] = equalLoudnessGains(
    [a, b].map(({samples, loudness}) => ({samples, loudness, peak: peak(samples)})),
    playedLoudness,
  );
  const pair = {a: scaled(a.samples, amplitude(gainA)), b: scaled(b.samples, amplitude(gainB))};
  // 24 bits hold nothing finer than this.
  const same = pair.a.every((sample, n) => Math.abs(sample - (pair.b[n] ?? 0)) < 2 ** -23);
  if (same)
    return {
      ok: false,
      message: "Before and now sound exactly alike: there is nothing to tell apart. Choose another pair.",
    };
  return {ok: true, ...pair};
}
