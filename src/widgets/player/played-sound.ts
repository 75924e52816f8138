import {phraseLength, phraseSamples, phraseStretches, type PhraseName} from "../../engine/sound/phrases.ts";
import {resample} from "../../engine/sound/resample.ts";
import {sweepSamples} from "../../engine/sound/sweep.ts";
import {slowSweep, type Played} from "./messages.ts";
import {renderRateHz} from "./rendering.ts";

/** What is played, at any rate in hertz: a phrase is made there, a sound of the reader's own brought there. */
export function playedSound(played: Played, rateHz: number): Float32Array {
  if (played === slowSweep) return sweepSamples(rateHz);
  if (typeof played === "string") return phraseSamples(played, rateHz);
  return resample(played, renderRateHz, rateHz, {loop: true});
}

/** A stretch of what is played: where it begins, and how long the whole is. */
export type Stretch = Readonly<{from: number; samples: Float32Array; length: number}>;

/** A stretch is worth sending from this length on, in seconds: long enough for the next to be made meanwhile. */
const stretchSeconds = 0.4;

/** A phrase whose peak is known, in stretches: the first is there long before the last. */
export function* phraseInStretches(name: PhraseName, rateHz: number, peak: number): Generator<Stretch | undefined> {
  const length = phraseLength(name, rateHz);
  const whole = new Float32Array(length);
  let [from, to] = [0, 0];
  for (const part of phraseStretches(name, rateHz, peak)) {
    whole.set(part, to);
    to += part.length;
    const worth = to === length || (from === 0 && to >= stretchSeconds * rateHz);
    yield worth ? {from, samples: whole.slice(from, to), length} : undefined;
    if (worth) from = to;
  }
}
