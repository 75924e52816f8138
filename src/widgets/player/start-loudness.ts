import {phrasePeak, phraseSamples} from "../../engine/sound/phrases.ts";
import type {Voice} from "./mix.ts";
import {quickLoudness, quickRateHz} from "./quick-loudness.ts";
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
  phrase ??= phraseSamples(startPhrase, quickRateHz);
  const loudness = known.get(key) ?? quickLoudness(setting, phrase);
  known.set(key, loudness);
  return loudness;
}

let peaks: Readonly<Record<number, number>> | undefined;

/** The start phrase's `phrasePeak` at the rates that most devices have, by rate in hertz: with it the phrase is made in stretches. */
export const startPeaks = (): Readonly<Record<number, number>> =>
  (peaks ??= Object.fromEntries([44_100, 48_000].map((rateHz) => [rateHz, phrasePeak(startPhrase, rateHz)])));
