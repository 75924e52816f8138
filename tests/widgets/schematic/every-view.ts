import {type BenchSetting, controlsOf, lessonCount, startSetting} from "../../../src/engine/course/course-circuit.ts";

export const sizes = ["wide", "compact"] as const;

export const lessons = Array.from({length: lessonCount}, (_, index) => index + 1);

/** A lesson's start and every setting that differs from it in one control. */
export const settingsOf = (lesson: number): readonly BenchSetting[] => [
  startSetting(lesson),
  ...controlsOf(lesson).flatMap(({name, values}) =>
    values.map((value) => ({lesson, settings: {...startSetting(lesson).settings, [name]: value}})),
  ),
];
