import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Rendering} from "./rendering.ts";

/** The choice that is no phrase: a sine that goes slowly up, to hear the curve by. */
export const slowSweep = "slow sweep";

/** What is played: a built-in phrase, the sweep, or a sound of the reader's own, mono, peak 1, at the rendering rate. */
export type Played = PhraseName | typeof slowSweep | Float32Array;

/** What the page tells any worker: to take this sound from now on. */
type Take = Readonly<{kind: "sound"; sound: Played}>;

/** What the page asks of the worker that makes what is played: the sound at a rate; `peak` is that of the start phrase there, if known. */
export type SoundRequest = Take | Readonly<{kind: "sound at"; key: number; rateHz: number; peak?: number | undefined}>;

/** What comes back, stretch by stretch until there are `length` samples; or why there is nothing. */
export type SoundAnswer = Readonly<
  {key: number} & ({from: number; samples: Float32Array; length: number} | {message: string})
>;

/** What the page asks of the workers that hear benches: to work something out and answer under a key. */
export type Request =
  | Take
  | Readonly<{kind: "render"; key: string; setting: BenchSetting; loudspeaker: boolean}>
  | Readonly<{kind: "under ceiling"; key: string; samples: Float32Array; gain: number}>
  | Readonly<{kind: "loudness"; key: string; setting: BenchSetting; loudspeaker: boolean}>;

/** What comes back: a bench heard, its loudness in LUFS for 1 V as full scale, samples as they are played, or why not. */
export type Answer = Readonly<
  {key: string} & ({rendering: Rendering} | {loudness: number} | {samples: Float32Array} | {message: string})
>;
