import type {VoiceCircuit} from "../../../engine/realtime/live-bench.ts";
import type {Voice} from "../mix.ts";

/** What the page tells the sound. */
export type ToSound =
  | Readonly<{kind: "loop"; samples: Float32Array | undefined}>
  | Readonly<{kind: "circuit"; voice: Voice; circuit: VoiceCircuit}>
  | Readonly<{kind: "gain"; voice: Voice; perVolt: number}>
  | Readonly<{kind: "loudspeaker"; on: boolean}>
  | Readonly<{kind: "hear"; voice: Voice | undefined}>;

/** What the sound tells the page: the share of its time that it has taken lately. Above 1 it cannot be in time. */
export type FromSound = Readonly<{share: number}>;
