import {fileResponsePart} from "../../engine/analysis/file-response.ts";
import {phraseSamples, type PhraseName} from "../../engine/sound/phrases.ts";
import {renderedPart, renderRateHz, type Rendering} from "../player/rendering.ts";
import type {WorkAnswer, WorkRequest} from "./work-messages.ts";

const post = (answer: WorkAnswer, transfer: Transferable[] = []) => postMessage(answer, {transfer});

let made: Readonly<{phrase: PhraseName; samples: Float32Array}> | undefined;

/** A phrase, made once for all the benches it is played through. */
function samplesOf(phrase: PhraseName): Float32Array {
  if (made?.phrase !== phrase) made = {phrase, samples: phraseSamples(phrase, renderRateHz)};
  return made.samples;
}

function worked({phrase, setting, forFile}: WorkRequest): Rendering {
  const parts = renderedPart(setting, samplesOf(phrase), true, forFile ? fileResponsePart : undefined);
  for (;;) {
    const {done, value} = parts.next();
    if (done === true) return value;
    post({share: value});
  }
}

addEventListener("message", ({data}: MessageEvent<WorkRequest>) => {
  try {
    const rendering = worked(data);
    post({rendering}, [rendering.samples.buffer]);
  } catch (error) {
    post({message: error instanceof Error ? error.message : String(error)});
  }
});
