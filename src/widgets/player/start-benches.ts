import {
  courseCircuit,
  beforeSetting,
  startSetting,
  wireSetting,
  type BenchSetting,
} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import type {Voice} from "./mix.ts";

/** The phrase that is played until another is chosen. */
export const startPhrase: PhraseName = "riff";

/**
 * A bench with the phrase as large as on another. The wire and the stages are played so: at true levels one hears what the parts do
 * and not how hard the strings were hit.
 */
export const playedLike = (bench: BenchSetting, other: BenchSetting): BenchSetting => ({
  ...bench,
  settings: {...bench.settings, phraseLevel: courseCircuit(other).phrasePeakVolts},
});

/** What each voice of a lesson plays before anything has been moved. */
export const startBenches = (lesson: number): Readonly<Record<Exclude<Voice, "stage">, BenchSetting>> => ({
  now: startSetting(lesson),
  before: beforeSetting(lesson),
  wire: playedLike(wireSetting, startSetting(lesson)),
});
