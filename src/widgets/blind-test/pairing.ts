import type {Rendering} from "../player/rendering.ts";
import type {FairPair} from "./fair-pair.ts";

/** `fairPair`, worked out off the main thread. Takes the renderings' memory. */
export function pairing(a: Rendering, b: Rendering): Promise<FairPair> {
  const worker = new Worker(new URL("./fair-pair.worker.ts", import.meta.url), {type: "module"});
  return new Promise<FairPair>((resolve, reject) => {
    worker.addEventListener("message", ({data}: MessageEvent<FairPair>) => resolve(data));
    worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
    worker.postMessage([a, b], {transfer: [a.samples.buffer, b.samples.buffer]});
  }).finally(() => worker.terminate());
}
