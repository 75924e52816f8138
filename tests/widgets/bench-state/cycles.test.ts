import {expect, test} from "vitest";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {courseCircuit, startSetting, type BenchSetting} from "../../../src/engine/course/course-circuit.ts";
import {cycleOf, halfSwing, openAHz, withoutDiodes, type Cycle} from "../../../src/widgets/bench-state/cycles.ts";
import {clippingClauses, clippingReadings} from "../../../src/widgets/bench-state/readings-clipping.ts";

const start = startSetting(10);
const cycle = (setting: BenchSetting, peakVolts?: number): Cycle => {
  const found = cycleOf(setting, peakVolts);
  if (!found) throw new Error("lesson 10 has a gain stage");
  return found;
};

test("the quick cycle keeps what is printed: half a hundredth of the peak beside one with eight times the steps", () => {
  for (const setting of [start, withoutDiodes(start)]) {
    const {circuit, phrasePeakVolts} = courseCircuit(setting);
    const fine = steadyCycle(circuit, {frequencyHz: openAHz, peakVolts: phrasePeakVolts}, ["o"], 256, 8).at.get("o");
    const quick = cycle(setting);
    expect(halfSwing(quick.output) / halfSwing(fine ?? new Float64Array(1))).toBeCloseTo(1, 2); // the peak may fall between two points
    const thd = harmonicDistortion(harmonicsOf(fine ?? new Float64Array(64))).ofFundamental;
    expect(Math.abs(harmonicDistortion(quick.harmonics).ofFundamental - thd)).toBeLessThan(1e-3); // two figures are printed
  }
});

test("two equal diodes make no even harmonics", () => {
  // An odd law gives odd harmonics only, by symmetry; a ten-thousandth is left to an op-amp whose rails are not alike.
  const {even, odd} = harmonicDistortion(cycle(start).harmonics);
  expect(even).toBeLessThan(1e-4);
  expect(odd).toBeGreaterThan(0.1);
});

test("while a diode holds, the output follows the input one to one", () => {
  // At the input's rising zero the diode has long conducted: the slope of output over input is 1 and a little.
  const {input, output} = cycle(start, 1);
  const k = input.findIndex((volts, n) => volts >= 0 && (input.at(n - 1) ?? 0) < 0);
  const slope = ((output.at(k + 2) ?? 0) - (output.at(k - 2) ?? 0)) / ((input.at(k + 2) ?? 0) - (input.at(k - 2) ?? 0));
  expect(slope).toBeGreaterThan(0.9);
  expect(slope).toBeLessThan(1.15);
});

test("a bench without a gain stage has no cycle to draw", () => {
  expect(cycleOf(startSetting(1))).toBeUndefined();
});

test("every clipping reading says something at the lesson's start", () => {
  const view = {now: start, held: {lesson: 9, settings: {phraseLevel: 0.3}}};
  for (const [name, read] of Object.entries(clippingReadings)) expect(read(view), name).toMatch(/\d/);
});

const figuresAt = (settings: Readonly<Record<string, number>>) => {
  const view = {
    now: {lesson: 10, settings: {...start.settings, ...settings}},
    held: {lesson: 9, settings: {phraseLevel: 0.3}},
  };
  return Object.fromEntries(Object.entries(clippingReadings).map(([name, read]) => [name, read(view)]));
};

test("lifting the diodes moves no reading: each says for itself whether they are in", () => {
  const [fitted, lifted] = [figuresAt({}), figuresAt({diodesFitted: 0})];
  expect(lifted).toEqual(fitted);
  expect(lifted["clippingOutput"]).not.toBe(lifted["outputWithoutDiodes"]);
});

test("what lifting the diodes does is worded in the direction it goes", () => {
  const said = (settings: Readonly<Record<string, number>>) => {
    const now = {lesson: 10, settings: {...start.settings, ...settings}};
    return clippingClauses.liftedOut({now, held: now}).replaceAll("\u00a0", " ");
  };
  expect(said({})).toMatch(/^the open A grows from \d+ mV to [\d.]+ V, and its distortion falls from \d+ % to less/);
  // The input rides on top of the diodes and makes the share small; without them the op-amp runs into its rails.
  expect(said({phraseLevel: 1})).toMatch(/grows from .*, and its distortion rises from \d+ % to \d+ %$/);
  expect(said({guitarVolume: 0})).toBe("nothing comes through, with them or without");
});

test("where the output stands highest it is the input and what lies across the diodes, and neither is at its own peak", () => {
  const {input, output} = cycle(start);
  const top = output.indexOf(Math.max(...output));
  const across = output.map((volts, k) => volts - (input[k] ?? 0));
  const millivolts = (volts: number) => `${Number((1000 * volts).toPrecision(3))}\u00a0mV`;
  const {inputAtTop, acrossAtTop} = figuresAt({});
  expect(inputAtTop).toBe(millivolts(input[top] ?? 0));
  expect(acrossAtTop).toBe(millivolts((output[top] ?? 0) - (input[top] ?? 0)));
  expect(input[top]).toBeLessThan(Math.max(...input));
  expect(across[top]).toBeLessThan(Math.max(...across));
});
