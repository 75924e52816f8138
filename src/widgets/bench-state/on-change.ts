import {effect, type ReadonlySignal} from "@preact/signals-core";

/**
 * Calls `act` after `signal` changes: not for its first value, since what was served already shows it, and at most once a
 * frame. Returns a function that ends it.
 */
export function onChange<T>(signal: ReadonlySignal<T>, act: (value: T) => void): () => void {
  let first = true;
  let frame = 0;
  const stop = effect(() => {
    void signal.value;
    if (first) {
      first = false;
      return;
    }
    if (frame === 0) {
      frame = requestAnimationFrame(() => {
        frame = 0;
        act(signal.peek());
      });
    }
  });
  return () => {
    stop();
    cancelAnimationFrame(frame);
  };
}
