import {phraseSamples} from "../../engine/sound/phrases.ts";
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
