import type {Rendering} from "../player/rendering.ts";
import type {ComposeAnswer, ComposeRequest} from "./compose-messages.ts";

/** All stages put together off the main thread, at the rendering rate. Takes the renderings' memory. */
export async function composedSamples(stages: readonly Rendering[]): Promise<Float32Array<ArrayBuffer>> {
  const answer = await composed({stages, as: "samples"});
  if (!("samples" in answer)) throw new Error("the worker has not answered with samples");
  return answer.samples;
}

/** The same as a WAV file: 48 kHz, 24 bit, one channel. */
export async function composedFile(stages: readonly Rendering[]): Promise<Blob> {
  const answer = await composed({stages, as: "file"});
  if (!("file" in answer)) throw new Error("the worker has not answered with a file");
  return new Blob([answer.file], {type: "audio/wav"});
}

function composed(request: ComposeRequest): Promise<ComposeAnswer> {
  const worker = new Worker(new URL("./compose.worker.ts", import.meta.url), {type: "module"});
  return new Promise<ComposeAnswer>((resolve, reject) => {
    worker.addEventListener("message", ({data}: MessageEvent<ComposeAnswer>) => {
      if ("message" in data) reject(new Error(data.message));
      else resolve(data);
    });
    worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
    worker.postMessage(request, {transfer: request.stages.map(({samples}) => samples.buffer)});
  }).finally(() => worker.terminate());
}
