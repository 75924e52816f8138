import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import {hands} from "../player/renderer.ts";
import type {Rendering} from "../player/rendering.ts";
import type {WorkAnswer, WorkRequest} from "./work-messages.ts";

/** Sounds under way. */
export type WorkingOut = Readonly<{
  /** All of them, or undefined once they are given up. */
  sounds: Promise<readonly Rendering[] | undefined>;
  /** Has this one taken up next, and those behind it after it. */
  next: (place: number) => void;
  cancel: () => void;
}>;

/** What is to be worked out, `first` before those behind it and these before the others; for a file it is worked out more closely. */
export type Work = Readonly<{
  phrase: PhraseName;
  settings: readonly BenchSetting[];
  forFile?: boolean;
  first?: number;
}>;

/**
 * Plays a phrase through several benches off the main thread, and resolves to what is heard of each, in their order, when
 * all are done. `onShare` is told how much of the whole is, `onSound` each of them as it comes.
 */
export function workingOut(
  {phrase, settings, forFile = false, first = 0}: Work,
  onShare: (share: number) => void,
  onSound: (place: number, sound: Rendering) => void = () => {},
): WorkingOut {
  const workers: Worker[] = [];
  let giveUp = () => {};
  let wanted = first;
  const waiting = new Set(settings.keys());
  const taken = (): number | undefined => {
    const behind = [...waiting].find((place) => place >= wanted);
    const place = behind ?? [...waiting][0];
    if (place !== undefined) waiting.delete(place);
    return place;
  };
  const sounds = new Promise<readonly Rendering[] | undefined>((resolve, reject) => {
    giveUp = () => resolve(undefined);
    const shares = settings.map(() => 0);
    const done = new Map<number, Rendering>();
    const take = (worker: Worker): number | undefined => {
      const place = taken();
      const setting = place === undefined ? undefined : settings[place];
      if (setting) worker.postMessage({phrase, setting, forFile} satisfies WorkRequest);
      return place;
    };
    for (let hand = 0; hand < Math.min(settings.length, hands()); hand++) {
      const worker = new Worker(new URL("./work.worker.ts", import.meta.url), {type: "module"});
      workers.push(worker);
      let at = take(worker);
      worker.addEventListener("message", ({data}: MessageEvent<WorkAnswer>) => {
        if ("message" in data) return reject(new Error(data.message));
        if (at === undefined) return;
        shares[at] = "share" in data ? data.share : 1;
        onShare(shares.reduce((sum, share) => sum + share, 0) / shares.length);
        if (!("rendering" in data)) return;
        done.set(at, data.rendering);
        onSound(at, data.rendering);
        if (done.size === settings.length) resolve(settings.flatMap((_, k) => done.get(k) ?? []));
        else at = take(worker);
      });
      worker.addEventListener("error", ({message}) => reject(new Error(message || "the worker could not start")));
    }
  }).finally(() => {
    for (const worker of workers) worker.terminate();
  });
  return {sounds, next: (place) => void (wanted = place), cancel: () => giveUp()};
}
