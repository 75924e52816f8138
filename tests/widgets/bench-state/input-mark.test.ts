import {expect, test} from "vitest";
import {controlsOf, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {inputCornerHz, inputFilter} from "../../../src/engine/course/formulas.ts";
import {circuitOf, gainDbAt, responseOf} from "../../../src/widgets/bench-state/curves.ts";
import {readingText} from "../../../src/widgets/bench-state/readings.ts";

const at = (settings = {}) => ({lesson: 2, settings: {...startSetting(2).settings, ...settings}});
const marks = (settings = {}) =>
  Object.fromEntries(responseOf(at(settings)).corners.map(({kind, frequencyHz}) => [kind, frequencyHz]));
const stops = (name: string) => controlsOf(2).find((control) => control.name === name)?.values ?? [];
const benches = ["C1", "R2", "guitarVolume", "amplifierOhms"].flatMap((name) =>
  stops(name)
    .filter((_, k) => name !== "guitarVolume" || k % 10 === 0)
    .map((value) => ({[name]: value})),
);

test("wherever the curve of lesson 2 carries a corner or bend, about 3 dB of it are lost there", () => {
  let checked = 0;
  for (const settings of benches) {
    const {corners} = responseOf(at(settings));
    const mark = corners.find(({kind}) => kind === "low corner" || kind === "bend");
    if (!mark || mark.gainDb === -Infinity) continue;
    const top = corners.find(({kind}) => kind === "highest")?.gainDb ?? inputFilter(circuitOf(at(settings))).levelDb;
    const lostDb = top - gainDbAt(at(settings), mark.frequencyHz);
    // Half a decibel is what a corner may stray; a hump near by lifts the curve by a little more.
    expect(Math.abs(lostDb - 3.01), JSON.stringify(settings)).toBeLessThan(0.6);
    if (mark.kind === "low corner") expect(mark.frequencyHz).toBe(inputCornerHz(circuitOf(at(settings))));
    checked++;
  }
  expect(checked).toBeGreaterThan(40);
});

test("with R2 small the highest point is the flat part between two slopes, and no hump; with C1 small it stays a hump", () => {
  for (const R2 of [10e3, 15e3, 22e3]) expect(Object.keys(marks({R2}))).toEqual(["bend", "highest"]);
  // As drawn: the curve with 22 kΩ has its top at 572 Hz, and 3 dB less at 138 Hz, where the formula says 184 Hz.
  expect(marks({R2: 22e3})["bend"]).toBeCloseTo(138, 0);
  for (const C1 of [100e-12, 680e-12]) expect(Object.keys(marks({C1}))).toEqual(["bend", "peak"]);
  // 1/(2π · (500 kΩ · 980 pF + 11.3 kΩ · 680 pF)) = 320 Hz but for a second-order hair; the formula says 464 Hz.
  expect(marks({C1: 680e-12})["bend"]).toBeCloseTo(318, 0);
  for (const C1 of [3.9e-9, 10e-9]) expect(Object.keys(marks({C1}))).toEqual(["low corner", "peak"]);
});

test("later, a curve that is highest where nothing resonates has no hump", () => {
  const kinds = (settings = {}) =>
    responseOf({lesson: 10, settings: {...startSetting(10).settings, ...settings}}).corners.map(({kind}) => kind);
  expect(kinds()).toEqual(["peak"]);
  // The guitar's volume half way up: its own curve only falls, as in lesson 1, and the gain stage makes the bow.
  expect(kinds({guitarVolume: 0.5, RV1: 1})).toEqual(["highest"]);
});

test("the text says where the bend is when it is not the formula's corner", () => {
  const read = (settings = {}) =>
    readingText("bendAgainstFormula", {now: at(settings), held: at()}).replaceAll("\u00a0", " ");
  expect(read()).toMatch(/still says “corner”, for at 9\.56 Hz they agree$/);
  expect(read({C1: 680e-12})).toMatch(/at 318 Hz, where the formula says 464 Hz$/);
});
