import type {Played, SoundAnswer, SoundRequest} from "./messages.ts";

/** Makes what is played, off the main thread and beside whatever else is worked out: nothing is heard without it. */
export type SoundSource = Readonly<{
  /** Resolves to what is played, at a rate in hertz. */
  soundAt: (rateHz: number) => Promise<Float32Array>;
  /** Plays this from now on. */
  use: (sound: Played) => void;
}>;

/** Starts the worker. Throws where the browser has none. */
export function soundSource(): SoundSource {
  const worker = new Worker(new URL("./sound.worker.ts", import.meta.url), {type: "module"});
  const waiting = new Map<number, {resolve: (sound: Float32Array) => void; reject: (error: Error) => void}>();
  let made = new Map<number, Promise<Float32Array>>();
  let asked = 0;
  worker.addEventListener("message", ({data}: MessageEvent<SoundAnswer>) => {
    const {resolve, reject} = waiting.get(data.key) ?? {};
    waiting.delete(data.key);
    if ("sound" in data) resolve?.(data.sound);
    else reject?.(new Error(data.message));
  });
  worker.addEventListener("error", ({message}) => {
    for (const {reject} of waiting.values()) reject(new Error(message || "the sound worker could not start"));
    waiting.clear();
    made.clear();
  });
  const say = (request: SoundRequest) => worker.postMessage(request);
  return {
    soundAt(rateHz) {
      const known = made.get(rateHz);
      if (known) return known;
      const key = asked++;
      const sound = new Promise<Float32Array>((resolve, reject) => waiting.set(key, {resolve, reject}));
      sound.catch(() => made.delete(rateHz));
      made.set(rateHz, sound);
      say({kind: "sound at", key, rateHz});
      return sound;
    },
    use(sound) {
      made = new Map();
      say({kind: "sound", sound});
    },
  };
}
