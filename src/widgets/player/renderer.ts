import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Answer, Played, Request} from "./messages.ts";
import type {Rendering} from "./rendering.ts";

/** Works sounds out off the main thread and remembers the last few. The same question is answered once. */
export type Renderer = Readonly<{
  /** Resolves to the bench heard. */
  render: (setting: BenchSetting) => Promise<Rendering>;
  /** Resolves to the loudness of a bench in LUFS, 1 V as full scale: much sooner than its rendering. */
  loudness: (setting: BenchSetting) => Promise<number>;
  /** The same at once, where it is known beforehand. */
  knownLoudness: (setting: BenchSetting) => number | undefined;
  /** Resolves to samples so many times as large, none above −1 dBFS: a limiter over half a minute would hold a page up. */
  underCeiling: (samples: Float32Array, gain: number) => Promise<Float32Array>;
  /** Plays this from now on. */
  use: (sound: Played) => void;
  /** Whether a loudspeaker stands behind the amplifier's input; it does at first. */
  loudspeaker: (on: boolean) => void;
}>;

const kept = 24;

/** As many as there are voices to render at once, and no more than leave the page a core of its own. */
export const hands = () => Math.max(1, Math.min(3, navigator.hardwareConcurrency - 1));

/** What is known beforehand: how loud a bench is with the start phrase, through the loudspeaker. */
export type KnownLoudness = Readonly<{setting: BenchSetting; loudness: number}>;

/** Starts its workers when first asked for what is not `known`. Throws then where the browser has none. */
export function renderer(known: readonly KnownLoudness[] = []): Renderer {
  const workers: Worker[] = [];
  const started = (): readonly Worker[] => {
    while (workers.length < hands()) {
      const worker = new Worker(new URL("./render.worker.ts", import.meta.url), {type: "module"});
      worker.addEventListener("message", answer);
      worker.addEventListener("error", fail);
      if (used) worker.postMessage(used);
      workers.push(worker);
    }
    return workers;
  };
  let used: Request | undefined;
  const done = new Map<string, Promise<Answer>>();
  const waiting = new Map<string, {resolve: (answer: Answer) => void; reject: (error: Error) => void}>();
  let sounds = 0;
  let turn = 0;
  let limits = 0;
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
  const ask = (question: string, request: (key: string) => Request): Promise<Answer> => {
    const key = `${sounds}:${question}`;
    const known = done.get(key);
    if (known) return known;
    const promise = new Promise<Answer>((resolve, reject) => waiting.set(key, {resolve, reject}));
    promise.catch(() => done.delete(key));
    done.set(key, promise);
    const [oldest] = done.keys();
    if (done.size > kept && oldest !== undefined) done.delete(oldest);
    started()[turn++ % hands()]?.postMessage(request(key));
    return promise;
  };
  const named = (kind: string, {lesson, settings}: BenchSetting) =>
    `${kind}:${loudspeaker}:${lesson}:${JSON.stringify(settings)}`;
  const given = <Key extends string, Value>(answer: Answer, key: Key): Value => {
    if (!(key in answer)) throw new Error(`the sound worker has not answered with ${key}`);
    return (answer as unknown as Record<Key, Value>)[key];
  };
  const beforehand = new Map(known.map(({setting, loudness}) => [named("loudness", setting), loudness]));
  const knownLoudness = (setting: BenchSetting) =>
    sounds === 0 ? beforehand.get(named("loudness", setting)) : undefined;
  return {
    render: async (setting) =>
      given(await ask(named("render", setting), (key) => ({kind: "render", key, setting, loudspeaker})), "rendering"),
    knownLoudness,
    loudness: async (setting) =>
      knownLoudness(setting) ??
      given(
        await ask(named("loudness", setting), (key) => ({kind: "loudness", key, setting, loudspeaker})),
        "loudness",
      ),
    async underCeiling(samples, gain) {
      const key = `under ceiling ${limits++}`;
      const answer = new Promise<Answer>((resolve, reject) => waiting.set(key, {resolve, reject}));
      started()[turn++ % hands()]?.postMessage({kind: "under ceiling", key, samples, gain} satisfies Request);
      return given(await answer, "samples");
    },
    loudspeaker: (on) => void (loudspeaker = on),
    use(sound) {
      sounds++;
      done.clear();
      used = {kind: "sound", sound};
      for (const worker of workers) worker.postMessage(used);
    },
  };
}
