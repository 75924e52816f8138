import type {VoiceCircuit} from "../../../engine/realtime/live-bench.ts";
import type {Voice} from "../mix.ts";

/** A voice as it runs in the sound thread: two places for stages, so that one fades into the next at its own level. */
export type RunningVoice = Exclude<Voice, "stage"> | "stage 0" | "stage 1";

/** What the page tells the sound. */
export type ToSound =
  | Readonly<{kind: "loop"; samples: Float32Array | undefined}>
  | Readonly<{kind: "rest of loop"; samples: Float32Array}>
  | Readonly<{kind: "circuit"; voice: RunningVoice; circuit: VoiceCircuit}>
  | Readonly<{kind: "gain"; voice: RunningVoice; perVolt: number}>
  | Readonly<{kind: "loudspeaker"; on: boolean}>
  | Readonly<{kind: "hear"; voice: RunningVoice | undefined}>
  | Readonly<{kind: "drop"; voice: RunningVoice}>
  | Readonly<{kind: "watch"; on: boolean}>;

/** What the sound tells the page, many times a second: where it is in the loop, and how busy it has been lately. */
export type FromSound = Readonly<{
  placeSeconds: number;
  /** The share of its time that it has taken; above 1 it cannot be in time. Told when it has been measured long enough. */
  share?: number;
}>;
