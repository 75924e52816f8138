import {wavFile} from "../../engine/sound/wav.ts";
import {renderRateHz} from "../player/rendering.ts";
import type {ComposeAnswer, ComposeRequest} from "./compose-messages.ts";
import {wholeBuild} from "./whole-build.ts";

const post = (answer: ComposeAnswer, transfer: Transferable[] = []) => postMessage(answer, {transfer});

addEventListener("message", ({data: {stages}}: MessageEvent<ComposeRequest>) => {
  try {
    const file = wavFile(wholeBuild(stages), renderRateHz);
    post({file}, [file.buffer]);
  } catch (error) {
    post({message: error instanceof Error ? error.message : String(error)});
  }
});
