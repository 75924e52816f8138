import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Rendering} from "../player/rendering.ts";

/** A phrase to be played through a bench, at this many times the rendering rate. */
export type WorkRequest = Readonly<{phrase: PhraseName; setting: BenchSetting; oversampling: number}>;

/** How much of it is done, the bench heard, or why not. */
export type WorkAnswer = Readonly<{share: number} | {rendering: Rendering} | {message: string}>;
