import workletAddress from "./live.worklet.ts?worker&url";

/** The sound device, open, and its thread with the program of the bench in it, once that is there. */
export type SoundDevice = Readonly<{context: AudioContext; threadReady: Promise<void>}>;

/** Whether this browser can play live; it needs a page served securely, or from this computer. */
export const canPlayLive = (): boolean => typeof AudioWorkletNode !== "undefined";

/** Has the sound thread's program fetched, so that it is at hand when a press asks for it. */
export const fetchAhead = (): void => void fetch(workletAddress).catch(() => {});

/** Opens the sound device. Called from a press only: nothing sounds by itself. */
export function soundDevice(): SoundDevice {
  const context = new AudioContext({latencyHint: "interactive"});
  const threadReady = context.audioWorklet.addModule(workletAddress);
  // Whoever plays on it is told; nobody else need be.
  threadReady.catch(() => {});
  return {context, threadReady};
}
