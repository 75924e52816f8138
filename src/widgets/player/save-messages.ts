import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Played} from "./messages.ts";

/** What is to be saved: what goes in, or a bench played at a gain in decibels (0 is 1 V at −12 dBFS). */
export type SaveRequest = Readonly<{
  sound: Played;
  bench?: Readonly<{setting: BenchSetting; loudspeaker: boolean; gainDb: number}>;
}>;

/** How much of it is done, the file, or why there is none. */
export type SaveAnswer = Readonly<{share: number} | {file: Uint8Array<ArrayBuffer>} | {message: string}>;
