import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import {hands} from "../player/renderer.ts";
import type {Rendering} from "../player/rendering.ts";
import type {WorkAnswer, WorkRequest} from "./work-messages.ts";

/** Sounds under way: all of them, or undefined once they are given up. */
export type WorkingOut = Readonly<{sounds: Promise<readonly Rendering[] | undefined>; cancel: () => void}>;

/** What is to be worked out; for a file it is worked out more closely. */
export type Work = Readonly<{phrase: PhraseName; settings: readonly BenchSetting[]; forFile?: boolean}>;

/**
 * Plays a phrase through several benches off the main thread, and resolves to what is heard of each, in their order, when
 * all are done. `onShare` is told how much of the whole is.
 */
export function workingOut({phrase, settings, forFile = false}: Work, onShare: (share: number) => void): WorkingOut {
  const workers: Worker[] = [];
  let giveUp = () => {};
  const sounds = new Promise<readonly Rendering[] | undefined>((resolve, reject) => {
    giveUp = () => resolve(undefined);
    const shares = settings.map(() => 0);
    const done = new Map<number, Rendering>();
    let next = 0;
    const take = (worker: Worker): number => {
      const setting = settings[next];
      if (setting) worker.postMessage({phrase, setting, forFile} satisfies WorkRequest);
      return next++;
    };
    for (let hand = 0; hand < Math.min(settings.length, hands()); hand++) {
      const worker = new Worker(new URL("./work.worker.ts", import.meta.url), {type: "module"});
      workers.push(worker);
      let at = take(worker);
      worker.addEventListener("message", ({data}: MessageEvent<WorkAnswer>) => {
        if ("message" in data) return reject(new Error(data.message));
        shares[at] = "share" in data ? data.share : 1;
        onShare(shares.reduce((sum, share) => sum + share, 0) / shares.length);
        if (!("rendering" in data)) return;
        done.set(at, data.rendering);
        if (done.size === settings.length) resolve(settings.flatMap((_, k) => done.get(k) ?? []));
        else at = take(worker);
      });
      worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
    }
  }).finally(() => {
    for (const worker of workers) worker.terminate();
  });
  return {sounds, cancel: () => giveUp()};
}
