import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Rendering} from "./rendering.ts";

/** What the page asks of the worker: take a sound of the reader's own, or render a bench. */
export type Request =
  | Readonly<{kind: "sound"; sound: Float32Array}>
  | Readonly<{kind: "built-in sound"}>
  | Readonly<{kind: "render"; key: string; setting: BenchSetting}>;

/** What comes back. */
export type Answer = Readonly<{key: string} & ({rendering: Rendering} | {message: string})>;
