import type {Rendering} from "../player/rendering.ts";
import type {ComposeAnswer, ComposeRequest} from "./compose-messages.ts";

/** All stages put together off the main thread as a WAV file: 48 kHz, 24 bit, one channel. Takes the renderings' memory. */
export async function composedFile(stages: readonly Rendering[]): Promise<Blob> {
  const worker = new Worker(new URL("./compose.worker.ts", import.meta.url), {type: "module"});
  const file = await new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    worker.addEventListener("message", ({data}: MessageEvent<ComposeAnswer>) => {
      if ("message" in data) reject(new Error(data.message));
      else resolve(data.file);
    });
    worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
    const request: ComposeRequest = {stages};
    worker.postMessage(request, {transfer: stages.map(({samples}) => samples.buffer)});
  }).finally(() => worker.terminate());
  return new Blob([file], {type: "audio/wav"});
}
