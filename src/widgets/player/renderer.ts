import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Answer, Request} from "./messages.ts";
import type {Rendering} from "./rendering.ts";

/** Renders benches off the main thread and remembers the last few. */
export type Renderer = Readonly<{
  /** Resolves to the bench heard; the same bench and sound are rendered once. */
  render: (setting: BenchSetting) => Promise<Rendering>;
  /** Plays this sound (mono, peak 1, at the rendering rate) from now on; undefined goes back to the built-in phrase. */
  use: (sound: Float32Array | undefined) => void;
}>;

const kept = 12;

/** As many as there are voices to render at once, and no more than leave the page a core of its own. */
const hands = () => Math.max(1, Math.min(3, navigator.hardwareConcurrency - 1));

/** Starts the workers. Throws where the browser has none. */
export function renderer(): Renderer {
  const workers = Array.from(
    {length: hands()},
    () => new Worker(new URL("./render.worker.ts", import.meta.url), {type: "module"}),
  );
  const done = new Map<string, Promise<Rendering>>();
  const waiting = new Map<string, {resolve: (rendering: Rendering) => void; reject: (error: Error) => void}>();
  let sounds = 0;
  let turn = 0;
  const answer = ({data}: MessageEvent<Answer>) => {
    const asked = waiting.get(data.key);
    waiting.delete(data.key);
    if ("rendering" in data) asked?.resolve(data.rendering);
    else asked?.reject(new Error(data.message));
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
  return {
    render(setting) {
      const key = `${sounds}:${setting.lesson}:${JSON.stringify(setting.settings)}`;
      const known = done.get(key);
      if (known) return known;
      const promise = new Promise<Rendering>((resolve, reject) => waiting.set(key, {resolve, reject}));
      promise.catch(() => done.delete(key));
      done.set(key, promise);
      const [oldest] = done.keys();
      if (done.size > kept && oldest !== undefined) done.delete(oldest);
      const request: Request = {kind: "render", key, setting};
      workers[turn++ % workers.length]?.postMessage(request);
      return promise;
    },
    use(sound) {
      sounds++;
      done.clear();
      const request: Request = sound ? {kind: "sound", sound} : {kind: "built-in sound"};
      for (const worker of workers) worker.postMessage(request);
    },
  };
}
