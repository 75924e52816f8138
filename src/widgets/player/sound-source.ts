import type {Played, SoundAnswer, SoundRequest} from "./messages.ts";

/** What is played, as far as it has been made: `samples` fills up until `whole` resolves to it. Silence stands for the rest. */
export type SoundInMaking = Readonly<{samples: Float32Array; whole: Promise<Float32Array>}>;

/** Makes what is played, off the main thread and beside whatever else is worked out: nothing is heard without it. */
export type SoundSource = Readonly<{
  /** Resolves to what is played, at a rate in hertz, as soon as its beginning is there. */
  soundAt: (rateHz: number) => Promise<SoundInMaking>;
  /** Plays this from now on. */
  use: (sound: Played) => void;
}>;

/**
 * Starts the worker. Throws where the browser has none.
 *
 * @param peaks of the start phrase's strings together at a rate, as `phrasePeak` gives them
 */
export function soundSource(peaks: Readonly<Record<number, number>>): SoundSource {
  const worker = new Worker(new URL("./sound.worker.ts", import.meta.url), {type: "module"});
  const waiting = new Map<number, (made: SoundAnswer) => void>();
  let known = new Map<number, Promise<SoundInMaking>>();
  let asked = 0;
  worker.onmessage = ({data}: MessageEvent<SoundAnswer>) => waiting.get(data.key)?.(data);
  worker.onerror = ({message}) => {
    for (const [key, tell] of waiting) tell({key, message: message || "the sound worker could not start"});
  };
  const say = (request: SoundRequest) => worker.postMessage(request);

  const making = (rateHz: number) =>
    new Promise<SoundInMaking>((resolve, reject) => {
      const key = asked++;
      let samples: Float32Array | undefined;
      let finish: (whole: Float32Array) => void;
      const whole = new Promise<Float32Array>((done) => (finish = done));
      waiting.set(key, (made) => {
        if ("message" in made) {
          known.delete(rateHz);
          return reject(new Error(made.message));
        }
        samples ??= new Float32Array(made.length);
        samples.set(made.samples, made.from);
        resolve({samples, whole});
        if (made.from + made.samples.length < made.length) return;
        waiting.delete(key);
        finish(samples);
      });
      say({kind: "sound at", key, rateHz, peak: peaks[rateHz]});
    });
  return {
    soundAt(rateHz) {
      const sound = known.get(rateHz) ?? making(rateHz);
      known.set(rateHz, sound);
      return sound;
    },
    use(sound) {
      known = new Map();
      say({kind: "sound", sound});
    },
  };
}
