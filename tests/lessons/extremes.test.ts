import {expect, test} from "vitest";
import {beforeSetting, controlsOf, startSetting} from "../../src/engine/course/course-circuit.ts";
import type {BenchView} from "../../src/widgets/bench-state/bench-state.ts";
import {consequenceText} from "../../src/widgets/bench-state/consequence.ts";
import {responseOf} from "../../src/widgets/bench-state/curves.ts";
import {clippingChange, loudnessChange} from "../../src/widgets/bench-state/level-change.ts";
import {atRestReadings, readingText, readings, type ReadingName} from "../../src/widgets/bench-state/readings.ts";
import {clauseReadings} from "../../src/widgets/bench-state/readings-clauses.ts";
import {clippingClauses} from "../../src/widgets/bench-state/readings-clipping.ts";
import {formulas} from "../../src/widgets/formula/formulas.ts";
import {cellText, readingAt, responseSummary, thirdOctavesHz} from "../../src/widgets/response/summary.ts";
import {whatChanged} from "../../src/widgets/what-changed/what-changed.ts";
import {projectFiles} from "../architecture/project-files.ts";

const lessons = projectFiles("src/lessons")
  .filter(({path}) => path.endsWith(".mdx"))
  .map(({text}) => ({lesson: Number(/^lesson: (\d+)/m.exec(text)?.[1]), text}));

/** What a lesson's prose and formulas quote. */
function quoted(text: string): readonly ReadingName[] {
  const inFormulas = [...text.matchAll(/<Formula is="(\w+)"/g)].flatMap(([, name = ""]) => [
    ...formulas[name as keyof typeof formulas].tex.matchAll(/\[(\w+)\]/g),
  ]);
  const names = [...text.matchAll(/<Reading\s+name="(\w+)"/g), ...inFormulas].map(([, name = ""]) => name);
  return [...new Set(names)].filter((name): name is ReadingName => name in readings);
}

/** Every control at either end, one at a time. */
const ends = (lesson: number): readonly Readonly<{name: string; value: number; view: BenchView}>[] =>
  controlsOf(lesson).flatMap(({name, values}) =>
    [values[0] ?? 0, values.at(-1) ?? 0].map((value) => ({
      name,
      value,
      view: {
        now: {lesson, settings: {...startSetting(lesson).settings, [name]: value}},
        held: beforeSetting(lesson),
      },
    })),
  );

/** Whole cycles and phrases take long: of those, only where a control silences or overloads. */
const slowAt = ["guitarVolume", "phraseLevel", "diodesFitted", "RV2"];
const nonsense = /NaN|undefined|Infinity|no limit|no lower limit|at no hump|\[object/;

test.each(lessons)(
  "lesson $lesson says something at both ends of every control",
  ({lesson, text}) => {
    const names = quoted(text);
    expect(names.length).toBeGreaterThan(5);
    for (const {name, value, view} of ends(lesson)) {
      const slow = slowAt.includes(name);
      const spoken = [
        ...names.filter((each) => slow || !(each in atRestReadings)).map((each) => readingText(each, view)),
        whatChanged(view),
        consequenceText(view.now),
        ...(slow ? [clippingChange(view)] : []),
        ...(slow && lesson < 3 ? [loudnessChange(view)] : []),
        responseSummary(responseOf(view.now), responseOf(view.held)),
        readingAt(responseOf(view.now), responseOf(view.held), 1000),
        ...thirdOctavesHz.map((hz) => cellText(responseOf(view.now), hz)),
      ].join(" | ");
      expect(spoken, `lesson ${lesson}, ${name} at ${value}`).not.toMatch(nonsense);
    }
  },
  240_000,
);

test.each(lessons)(
  "what never breaks across lines is short in lesson $lesson; a longer reading is a clause",
  ({lesson, text}) => {
    const breaking = {...clauseReadings, ...clippingClauses};
    const view = {now: startSetting(lesson), held: beforeSetting(lesson)};
    const whole = quoted(text).filter((name) => !(name in breaking) && !(name in atRestReadings));
    // At 320 px a line of a lesson holds some thirty characters.
    for (const name of whole) expect(readingText(name, view).length, name).toBeLessThanOrEqual(28);
  },
);

test.each(lessons)(
  "the answer to the guess of lesson $lesson is that of the start, however the bench is moved",
  ({text}) => {
    const guess = /<Guess [\s\S]*<\/Guess>/.exec(text)?.[0] ?? "";
    const live = [...guess.matchAll(/<Reading name="(\w+)" \/>/g)].map(([, name = ""]) => name as ReadingName);
    expect(guess.length).toBeGreaterThan(100);
    // What takes no bench says the same of every one.
    expect(live.filter((name) => readings[name].length > 0)).toEqual([]);
  },
);

test("a silent bench is called silent and not a number", () => {
  const now = {lesson: 1, settings: {...startSetting(1).settings, guitarVolume: 0}};
  const view = {now, held: beforeSetting(1)};
  expect(readingAt(responseOf(now), responseOf(view.held), 1000).replaceAll("\u00a0", " ")).toMatch(
    /^1 kHz: now silent, before 0\.0\d+ dB$/,
  );
  expect(cellText(responseOf(now), 20)).toBe("silent");
  expect(whatChanged(view)).toMatch(/Nothing comes through any more\.$/);
  expect(loudnessChange(view)).toBe("Now is silent.");
  expect(loudnessChange({now: view.held, held: now})).toBe("Before is silent.");
  expect(loudnessChange({now, held: now})).toBe("Both are silent.");
});
