import {startSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import {workingOut} from "../whole-sounds/working-out.ts";
import {wholeBuild, type Stage} from "./whole-build.ts";

/** Stages under way. */
export type StageWorks = Readonly<{
  /** Resolves to whether all are there: false where that was given up. */
  done: Promise<boolean>;
  /** Has this stage worked out next, and those behind it after it. */
  next: (stage: number) => void;
  cancel: () => void;
}>;

export type StageWorksEvents = Readonly<{
  /** Whether a stage is there already. */
  there: (stage: number) => boolean;
  /** How much is done of what is under way, as a share of one stage. */
  onShare: (share: number) => void;
  /** A stage as it is played: as loud as the others, none above −1 dBFS. */
  onStage: (stage: number, samples: Float32Array<ArrayBuffer>) => void;
}>;

/** Has the stages that are not there yet played off the main thread, `first` before those behind it and these before the others. */
export function stageWorks(
  phrase: PhraseName,
  stages: readonly Stage[],
  first: number,
  {there, onShare, onStage}: StageWorksEvents,
): StageWorks {
  const missing = [...stages.keys()].filter((stage) => !there(stage));
  /** Where in the work a stage, or the first one behind it, stands. */
  const placeOf = (stage: number) =>
    Math.max(
      0,
      missing.findIndex((each) => each >= stage),
    );
  let done = 0;
  const work = workingOut(
    {phrase, settings: missing.map((stage) => startSetting(stages[stage]?.lesson ?? 1)), first: placeOf(first)},
    (share) => onShare(share * missing.length - done),
    (place, rendering) => {
      done += 1;
      // By itself a stage comes to the loudness that all come to together: no phrase reaches the ceiling at it.
      onStage(missing[place] ?? 0, wholeBuild([rendering]));
      onShare(0);
    },
  );
  return {
    done: work.sounds.then((sounds) => sounds !== undefined),
    next: (stage) => work.next(placeOf(stage)),
    cancel: work.cancel,
  };
}
