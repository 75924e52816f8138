import type {Rendering} from "../player/rendering.ts";

/** All stages, to be put together in one file. */
export type ComposeRequest = Readonly<{stages: readonly Rendering[]}>;

/** The file, or why there is none. */
export type ComposeAnswer = Readonly<{file: Uint8Array<ArrayBuffer>} | {message: string}>;
