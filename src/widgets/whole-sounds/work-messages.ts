import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Rendering} from "../player/rendering.ts";

/** A phrase to be played through a bench, for a file or to be heard at once. */
export type WorkRequest = Readonly<{phrase: PhraseName; setting: BenchSetting; forFile: boolean}>;

/** How much of it is done, the bench heard, or why not. */
export type WorkAnswer = Readonly<{share: number} | {rendering: Rendering} | {message: string}>;
