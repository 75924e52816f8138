import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Answer, Played, Request} from "./messages.ts";
import type {Rendering} from "./rendering.ts";

/** Works sounds out off the main thread and remembers the last few. The same question is answered once. */
export type Renderer = Readonly<{
  /** Resolves to the bench heard. */
  render: (setting: BenchSetting) => Promise<Rendering>;
  /** Resolves to the loudness of a bench in LUFS, 1 V as full scale: much sooner than its rendering. */
  loudness: (setting: BenchSetting) => Promise<number>;
  /** Resolves to what is played, at a rate in hertz. */
  soundAt: (rateHz: number) => Promise<Float32Array>;
  /** Plays this from now on. */
  use: (sound: Played) => void;
  /** Whether a loudspeaker stands behind the amplifier's input; it does at first. */
  loudspeaker: (on: boolean) => void;
}>;

const kept = 24;

/** As many as there are voices to render at once, and no more than leave the page a core of its own. */
export const hands = () => Math.max(1, Math.min(3, navigator.hardwareConcurrency - 1));

/** Starts the workers. Throws where the browser has none. */
export function renderer(): Renderer {
  const workers = Array.from(
    {length: hands()},
    () => new Worker(new URL("./render.worker.ts", import.meta.url), {type: "module"}),
  );
  const done = new Map<string, Promise<Answer>>();
  const waiting = new Map<string, {resolve: (answer: Answer) => void; reject: (error: Error) => void}>();
  let sounds = 0;
  let turn = 0;
  let loudspeaker = true;
  const answer = ({data}: MessageEvent<Answer>) => {
    const asked = waiting.get(data.key);
    waiting.delete(data.key);
    if ("message" in data) asked?.reject(new Error(data.message));
    else asked?.resolve(data);
  };
  const fail = ({message}: ErrorEvent) => {
    for (const {reject} of waiting.values()) reject(new Error(message || "the sound worker could not start"));
    waiting.clear();
    done.clear();
  };
  for (const worker of workers) {
    worker.addEventListener("message", answer);
    worker.addEventListener("error", fail);
  }
  const ask = (question: string, request: (key: string) => Request): Promise<Answer> => {
    const key = `${sounds}:${question}`;
    const known = done.get(key);
    if (known) return known;
    const promise = new Promise<Answer>((resolve, reject) => waiting.set(key, {resolve, reject}));
    promise.catch(() => done.delete(key));
    done.set(key, promise);
    const [oldest] = done.keys();
    if (done.size > kept && oldest !== undefined) done.delete(oldest);
    workers[turn++ % workers.length]?.postMessage(request(key));
    return promise;
  };
  const named = (kind: string, {lesson, settings}: BenchSetting) =>
    `${kind}:${loudspeaker}:${lesson}:${JSON.stringify(settings)}`;
  const given = <Key extends string, Value>(answer: Answer, key: Key): Value => {
    if (!(key in answer)) throw new Error(`the sound worker has not answered with ${key}`);
    return (answer as unknown as Record<Key, Value>)[key];
  };
  return {
    render: async (setting) =>
      given(await ask(named("render", setting), (key) => ({kind: "render", key, setting, loudspeaker})), "rendering"),
    loudness: async (setting) =>
      given(
        await ask(named("loudness", setting), (key) => ({kind: "loudness", key, setting, loudspeaker})),
        "loudness",
      ),
    soundAt: async (rateHz) => given(await ask(`at ${rateHz}`, (key) => ({kind: "sound at", key, rateHz})), "sound"),
    loudspeaker: (on) => void (loudspeaker = on),
    use(sound) {
      sounds++;
      done.clear();
      for (const worker of workers) worker.postMessage({kind: "sound", sound} satisfies Request);
    },
  };
}
