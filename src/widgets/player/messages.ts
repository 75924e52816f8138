import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Rendering} from "./rendering.ts";

/** The choice that is no phrase: a sine that goes slowly up, to hear the curve by. */
export const slowSweep = "slow sweep";

/** What is played: a built-in phrase, the sweep, or a sound of the reader's own, mono, peak 1, at the rendering rate. */
export type Played = PhraseName | typeof slowSweep | Float32Array;

/** What the page asks of the worker: to take a sound, or to work something out and answer under a key. */
export type Request =
  | Readonly<{kind: "sound"; sound: Played}>
  | Readonly<{kind: "render"; key: string; setting: BenchSetting; loudspeaker: boolean}>
  | Readonly<{kind: "loudness"; key: string; setting: BenchSetting; loudspeaker: boolean}>
  | Readonly<{kind: "sound at"; key: string; rateHz: number}>;

/** What comes back: a bench heard, its loudness in LUFS for 1 V as full scale, the sound at another rate, or why not. */
export type Answer = Readonly<
  {key: string} & ({rendering: Rendering} | {loudness: number} | {sound: Float32Array} | {message: string})
>;
