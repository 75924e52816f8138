import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {betweenTasks} from "./between-tasks.ts";
import {quickLoudnessPart, quickRateHz} from "./quick-loudness.ts";

/** As much of a phrase as loudness can be told from at all: one block of ITU-R BS.1770. */
export const beginningSeconds = 0.4;

/**
 * Loudness in LUFS of the first 0.4 s of a sound through a bench and a loudspeaker, as `quickLoudness` has it of the whole: there
 * before a worker could have started. Worked out between whatever else the page does.
 *
 * @param sound at `quickRateHz`
 */
export function beginningLoudness(setting: BenchSetting, sound: Float32Array): Promise<number> {
  return betweenTasks(quickLoudnessPart(setting, sound.subarray(0, beginningSeconds * quickRateHz)));
}
