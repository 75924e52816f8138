import {phrasePeak, phraseSamples} from "../../engine/sound/phrases.ts";
import type {Voice} from "./mix.ts";
import {quickLoudness, quickRateHz} from "./quick-loudness.ts";
import {beginningSeconds} from "./rough-loudness.ts";
import {startBenches, startPhrase} from "./start-benches.ts";

const known = new Map<string, number>();
let phrase: Float32Array | undefined;

/**
 * Loudness in LUFS of a voice where the lesson starts, as `quickLoudness` gives it, for the page to be written with: a page just
 * loaded then plays at the matched level at once.
 */
export function startLoudness(lesson: number, voice: Exclude<Voice, "stage">): number {
  const setting = startBenches(lesson)[voice];
  const key = JSON.stringify(setting);
  const loudness = known.get(key) ?? quickLoudness(setting, wholePhrase());
  known.set(key, loudness);
  return loudness;
}

/** By how many loudness units the whole start phrase is louder than its beginning, on the bench where the lesson starts. */
export function startLeft(lesson: number): number {
  const beginning = wholePhrase().subarray(0, beginningSeconds * quickRateHz);
  const more = startLoudness(lesson, "now") - quickLoudness(startBenches(lesson).now, beginning);
  // A bench that is silent tells nothing.
  return Number.isFinite(more) ? more : 0;
}

const wholePhrase = () => (phrase ??= phraseSamples(startPhrase, quickRateHz));

let peaks: Readonly<Record<number, number>> | undefined;

/** The start phrase's `phrasePeak` at the rates that most devices have, by rate in hertz: with it the phrase is made in stretches. */
export const startPeaks = (): Readonly<Record<number, number>> =>
  (peaks ??= Object.fromEntries([44_100, 48_000].map((rateHz) => [rateHz, phrasePeak(startPhrase, rateHz)])));
