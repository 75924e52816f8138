import {beforeSetting, startSetting, wireSetting, type BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Voice} from "./mix.ts";

/** The phrase that is played until another is chosen. */
export const startPhrase: PhraseName = "riff";

/** What each voice of a lesson plays before anything has been moved. */
export const startBenches = (lesson: number): Readonly<Record<Exclude<Voice, "stage">, BenchSetting>> => ({
  now: startSetting(lesson),
  before: beforeSetting(lesson),
  wire: wireSetting,
});
