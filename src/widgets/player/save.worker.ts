import {fileResponsePart} from "../../engine/analysis/file-response.ts";
import {amplitude, scaled} from "../../engine/sound/samples.ts";
import {wavFile} from "../../engine/sound/wav.ts";
import {underCeiling} from "./mix.ts";
import {playedSound} from "./played-sound.ts";
import {renderedPart, renderRateHz} from "./rendering.ts";
import type {SaveAnswer, SaveRequest} from "./save-messages.ts";

/** What goes in is saved with its peak here: as loud as a guitar is recorded. */
const dryPeakDb = -12;

const post = (answer: SaveAnswer, transfer: Transferable[] = []) => postMessage(answer, {transfer});

function saved({sound: played, bench}: SaveRequest): Uint8Array<ArrayBuffer> {
  const sound = playedSound(played, renderRateHz);
  if (!bench) return wavFile(scaled(sound, amplitude(dryPeakDb)), renderRateHz);
  const parts = renderedPart(bench.setting, sound, bench.loudspeaker, fileResponsePart);
  for (;;) {
    const {done, value} = parts.next();
    if (done === true) return wavFile(underCeiling(scaled(value.samples, amplitude(bench.gainDb))), renderRateHz);
    post({share: value});
  }
}

addEventListener("message", ({data}: MessageEvent<SaveRequest>) => {
  try {
    const file = saved(data);
    post({file}, [file.buffer]);
  } catch (error) {
    post({message: error instanceof Error ? error.message : String(error)});
  }
});
