import type {Rendering} from "../player/rendering.ts";

/** All stages, to be put together: as samples to play, or as a file. */
export type ComposeRequest = Readonly<{stages: readonly Rendering[]; as: "samples" | "file"}>;

/** The whole, in the form asked for, or why there is none. */
export type ComposeAnswer = Readonly<
  {samples: Float32Array<ArrayBuffer>} | {file: Uint8Array<ArrayBuffer>} | {message: string}
>;
