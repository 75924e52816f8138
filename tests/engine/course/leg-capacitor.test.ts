import {expect, test} from "vitest";
import {frequencyResponse, magnitude} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {fullGain, legCornerHz, lowerLegCornerHz} from "../../../src/engine/course/formulas.ts";

/** Gain of the op-amp stage of lesson 6 in decibels, from its + input to its output. */
function stageDb(settings: Readonly<Record<string, number>>, frequencyHz: number): number {
  const {circuit} = courseCircuit({lesson: 6, settings});
  const [o = 0, p = 0] = ["o", "p"].map(
    (node) => magnitude(frequencyResponse(circuit, node, Float64Array.of(frequencyHz)))[0],
  );
  return 20 * Math.log10(o / p);
}
const rest = (lesson: number, settings: Readonly<Record<string, number>>, node: string) =>
  restVoltage(operatingPoint(courseCircuit({lesson, settings}).circuit), node);
const trail = (RV1: number) => stageDb({RV1}, 2000) - stageDb({RV1}, 82.41);

test("the stage has the gain of the closed form (1 + jf/lower)/(1 + jf/upper)", () => {
  for (const [RV1, ohms] of [
    [0, 50],
    [0.09, 29_750],
    [0.5, 165_050],
  ] as const) {
    for (const hz of [20, 82.41, 709, 2000]) {
      // Network theory for an ideal op-amp, worked from the parts alone: R3 = 3.3 kΩ, C3 = 68 nF, 50 Ω at RV1's stop.
      const [lower, upper] = [1 / (2 * Math.PI * (3300 + ohms) * 68e-9), 1 / (2 * Math.PI * 3300 * 68e-9)];
      const closed = 10 * Math.log10((1 + (hz / lower) ** 2) / (1 + (hz / upper) ** 2));
      // The real op-amp's finite bandwidth takes up to 0.1 dB at 2 kHz and fifty times the gain.
      expect(Math.abs(stageDb({RV1}, hz) - closed)).toBeLessThan(0.1);
    }
  }
});

test("the upper corner stays while the gain rises, and the lower one walks down", () => {
  const at = (RV1: number) => courseCircuit({lesson: 6, settings: {RV1}}).circuit;
  // 1/(2π · 3.3 kΩ · 68 nF) = 709 Hz; 1/(2π · (3.3 + 330.05) kΩ · 68 nF) = 7.02 Hz; 1 + 330.05/3.3 = 101: by hand.
  for (const RV1 of [0, 0.1, 0.5, 1]) expect(legCornerHz(at(RV1))).toBeCloseTo(709.25, 1);
  expect(lowerLegCornerHz(at(0.1))).toBeLessThan(lowerLegCornerHz(at(0)) / 10);
  expect(lowerLegCornerHz(at(1))).toBeCloseTo(7.02, 2);
  expect(fullGain(at(1))).toBeCloseTo(101, 1);
});

test("the bass rises too but trails the mids, and most of the gap opens in the first tenth of the turn", () => {
  // course.md, by hand: 0.1 dB at zero, 16 dB at a tenth, 18 dB at full; to half of the last place printed.
  expect(Math.abs(trail(0) - 0.1)).toBeLessThan(0.05);
  expect(Math.abs(trail(0.1) - 16)).toBeLessThan(0.5);
  expect(Math.abs(trail(1) - 18)).toBeLessThan(0.5);
  expect(stageDb({RV1: 1}, 82.41)).toBeGreaterThan(stageDb({RV1: 0.1}, 82.41) + 10); // the bass rises: 17 dB
  expect(trail(0.1)).toBeGreaterThan(0.8 * trail(1)); // 'most': four fifths of it
});

// Common practice, no published source.
test("turned all the way down the stage is a buffer, within 0.2 dB", () => {
  for (const hz of [20, 82.41, 1000, 5000, 20_000]) expect(Math.abs(stageDb({RV1: 0}, hz))).toBeLessThan(0.2);
});

// Common practice, no published source.
test("a leg with its corner near 720 Hz loses bass below 700 to 800 Hz, gently and not as a cliff", () => {
  const top = stageDb({RV1: 0.5}, 5000);
  expect(top - stageDb({RV1: 0.5}, 750)).toBeGreaterThan(2); // a first-order corner: 3 dB at 709 Hz
  expect(top - stageDb({RV1: 0.5}, 750)).toBeLessThan(4);
  for (let hz = 50; hz < 700; hz *= 2) {
    const perOctave = stageDb({RV1: 0.5}, hz * 2) - stageDb({RV1: 0.5}, hz);
    expect(perOctave).toBeGreaterThan(0);
    expect(perOctave).toBeLessThan(6.03); // 20·log10(2): one capacitor makes no steeper slope
  }
});

test("each step of C3 upwards gives the low E more gain", () => {
  const gains = [33e-9, 68e-9, 150e-9, 330e-9].map((C3) => stageDb({RV1: 0.5, C3}, 82.41));
  for (let k = 1; k < gains.length; k++) expect(gains[k]).toBeGreaterThan((gains[k - 1] ?? 0) + 3); // halved corner: near 6 dB
});

test("with C3 the output rests at the reference; with the leg straight to ground it leans on the rail", () => {
  for (const RV1 of [0, 0.09, 1]) {
    // The op-amp's input current and offset are all that could move it: under 10 mV in a JFET part [from memory].
    expect(Math.abs(rest(6, {RV1}, "o") - rest(6, {RV1}, "ref"))).toBeLessThan(0.01);
  }
  expect(rest(5, {RV1: 0.09, leg: 1}, "o")).toBeGreaterThan(0.75 * rest(5, {RV1: 0.09, leg: 1}, "vcc"));
});
