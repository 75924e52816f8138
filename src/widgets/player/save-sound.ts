import type {SaveAnswer, SaveRequest} from "./save-messages.ts";

/** A file under way: what it will be, and a way to give it up. */
export type Saving = Readonly<{file: Promise<Blob | undefined>; cancel: () => void}>;

/** Works a sound out as a WAV file (48 kHz, 24 bit, one channel) off the main thread; resolves to undefined if given up. */
export function saving(request: SaveRequest, onShare: (share: number) => void): Saving {
  const worker = new Worker(new URL("./save.worker.ts", import.meta.url), {type: "module"});
  let giveUp = () => {};
  const file = new Promise<Blob | undefined>((resolve, reject) => {
    giveUp = () => resolve(undefined);
    worker.addEventListener("message", ({data}: MessageEvent<SaveAnswer>) => {
      if ("share" in data) onShare(data.share);
      else if ("file" in data) resolve(new Blob([data.file], {type: "audio/wav"}));
      else reject(new Error(data.message));
    });
    worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
  }).finally(() => worker.terminate());
  worker.postMessage(request);
  return {file, cancel: () => giveUp()};
}
