import {expect, test} from "vitest";
import {controlsOf, startSetting, type BenchSetting} from "../../src/engine/course/course-circuit.ts";
import {lowerLegCornerHz} from "../../src/engine/course/formulas.ts";
import {formatQuantity} from "../../src/engine/quantities/format-quantity.ts";
import {rotations} from "../../src/engine/course/stops.ts";
import {circuitOf} from "../../src/widgets/bench-state/curves.ts";
import {stageGainDb, trailDb} from "../../src/widgets/bench-state/readings-gain-stage.ts";
import {readingText, type ReadingName} from "../../src/widgets/bench-state/readings.ts";
import {placeText} from "../../src/widgets/slider/control-text.ts";

/** What lesson 6 says in words is held here against the engine: a change of the circuit must not leave the prose behind. */
const at = (RV1: number): BenchSetting => ({lesson: 6, settings: {...startSetting(6).settings, RV1}});
const read = (name: ReadingName, setting = startSetting(6)) => readingText(name, {now: setting, held: setting});

const gainControl = controlsOf(6).find(({name}) => name === "RV1");

test("far below the leg's corners the gain levels off at one, and at the lower corner it is still 3 dB above that", () => {
  for (const RV1 of [0.09, 0.5, 1]) {
    const circuit = circuitOf(at(RV1));
    const lower = lowerLegCornerHz(circuit);
    expect(stageGainDb(circuit, lower / 100)).toBeCloseTo(0, 2); // (f/fc)² = 1e-4, that is 0.0004 dB
    // At its lower corner a stage of zero and pole has √2 of its low gain, a little less where the pole is near.
    expect(stageGainDb(circuit, lower)).toBeGreaterThan(2.9);
    expect(stageGainDb(circuit, lower)).toBeLessThan(3.02);
  }
});

test("the gap opens in the first tenth of the turn: what is left grows it by less than a fifth", () => {
  const [down, tenth, full] = [0, 0.1, 1].map((RV1) => trailDb(circuitOf(at(RV1)))) as [number, number, number];
  expect(tenth - down).toBeGreaterThan(0.8 * (full - down));
  expect(full).toBeGreaterThan(tenth);
});

test("all the way down the stage gains what the ohms at the stop give it, as both are printed", () => {
  const [ohms, gainDb] = ["gainOhmsDown", "stageGainMidsDown"].map((name) =>
    Number.parseFloat(read(name as ReadingName)),
  ) as [number, number];
  // Well above the upper corner: 1 + RV1 / R3, in decibels; a tenth is lost to the corner.
  const R3 = 1e3 * Number.parseFloat(read("R3"));
  const byHand = 20 * Math.log10(1 + ohms / R3);
  expect(gainDb).toBeLessThan(byHand);
  expect(gainDb).toBeGreaterThan(0.8 * byHand);
  expect(ohms).toBeGreaterThan(0);
});

test("the guess and the bench start from one place of the gain control, and its gap is that of the start", () => {
  expect(read("startTurn", at(1))).toBe(gainControl && placeText(gainControl, gainControl.start));
  expect(read("trailStart", at(1))).toBe(read("trail"));
});

test("who divides the resistances that are printed gets the ratio that is printed, at every stop of the gain control", () => {
  const figures = (text: string) => {
    const [, digits = "", unit = ""] = /^([\d.]+)\u00a0(kΩ|Ω)$/.exec(text) ?? [];
    return Number(digits) * (unit === "kΩ" ? 1e3 : 1);
  };
  for (const RV1 of rotations) {
    const quotient = figures(read("gainOhms", at(RV1))) / figures(read("R3", at(RV1)));
    expect(formatQuantity(quotient, ""), `at ${RV1}`).toBe(read("gainRatio", at(RV1)));
  }
});

test("the lean is said to be at a marker only where one is drawn", () => {
  const lean = (settings: Readonly<Record<string, number>>) =>
    read("whereItLeans", {lesson: 6, settings: {...startSetting(6).settings, ...settings}});
  expect(lean({})).toContain("at the marker");
  expect(lean({C3: 1e-9})).toContain("off the right of the drawing"); // 48 kHz
  expect(lean({C3: 10e-6})).toContain("off the left of the drawing"); // 4.8 Hz
  expect(lean({RV1: 0})).toContain("no marker");
});

test("the lower corner is said to leave strings and drawing only where it does", () => {
  const walks = (C3: number) =>
    read("lowerCornerWalks", {lesson: 6, settings: {...startSetting(6).settings, C3}}).replaceAll("\u00a0", " ");
  // By hand: 1/(2π · 333.35 kΩ · C3).
  expect(walks(68e-9)).toBe("off to the left, under the strings and off the drawing, to 7.02 Hz");
  expect(walks(10e-9)).toBe("to the left, under the strings, to 47.7 Hz");
  expect(walks(1e-9)).toBe("to the left, to 477 Hz");
});

test("the gain is the ratio of the two resistors and one", () => {
  for (const RV1 of [0.09, 0.5]) {
    const [ratio, gain] = [Number(read("gainRatio", at(RV1))), Number(read("fullGain", at(RV1)))];
    expect(gain - ratio).toBeCloseTo(1, 1); // both are printed with three figures
  }
});
