import {phraseSamples} from "../../engine/sound/phrases.ts";
import type {Answer, Request} from "./messages.ts";
import {rendered, renderRateHz} from "./rendering.ts";

let sound: Float32Array | undefined;

const post = (answer: Answer, transfer: Transferable[]) => postMessage(answer, {transfer});

addEventListener("message", ({data}: MessageEvent<Request>) => {
  if (data.kind === "sound") sound = data.sound;
  else if (data.kind === "built-in sound") sound = undefined;
  else {
    try {
      sound ??= phraseSamples("riff", renderRateHz);
      const rendering = rendered(data.setting, sound);
      post({key: data.key, rendering}, [rendering.samples.buffer]);
    } catch (error) {
      post({key: data.key, message: error instanceof Error ? error.message : String(error)}, []);
    }
  }
});
