import {lessonTable} from "./lessons.ts";

/** Lesson 3 is for the meter: what it adds carries no signal. */
const forTheMeter = 3;
/** The pedal is whole here; the lessons after it measure it, build it and mend it. */
const wholePedal = 16;

/** The lessons that have a sound of their own, from the wire to the whole pedal. */
export const heardStages: readonly number[] = lessonTable
  .map(({lesson}) => lesson)
  .filter((lesson) => lesson !== forTheMeter && lesson <= wholePedal);
