import {effect, type ReadonlySignal} from "@preact/signals-core";
import {soundServed} from "./sound-first.ts";

/**
 * Calls `act` after `signal` changes: not for its first value, since what was served already shows it, and at most once a
 * frame, and after a sound that is awaited. Returns a function that ends it.
 */
export function onChange<T>(signal: ReadonlySignal<T>, act: (value: T) => void): () => void {
  let first = true;
  let frame = 0;
  let ended = false;
  const tell = () => {
    frame = 0;
    if (!ended) act(signal.peek());
  };
  const stop = effect(() => {
    void signal.value;
    if (first) {
      first = false;
      return;
    }
    if (frame === 0) {
      frame = requestAnimationFrame(() => {
        const served = soundServed();
        if (served) void served.then(tell);
        else tell();
      });
    }
  });
  return () => {
    ended = true;
    stop();
    cancelAnimationFrame(frame);
  };
}
