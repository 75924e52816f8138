import type {Exercise} from "./exercise.ts";
import {lesson01} from "./lesson-01.ts";
import {lesson02} from "./lesson-02.ts";
import {lesson06} from "./lesson-06.ts";
import {lesson10} from "./lesson-10.ts";

const byLesson = new Map<number, readonly Exercise[]>([
  [1, lesson01],
  [2, lesson02],
  [6, lesson06],
  [10, lesson10],
]);

/** All exercises that are written, in order. */
export const allExercises: readonly Exercise[] = [...byLesson.values()].flat();

/** The exercises of a lesson; none where none are written. */
export const exercisesOf = (lesson: number): readonly Exercise[] => byLesson.get(lesson) ?? [];
