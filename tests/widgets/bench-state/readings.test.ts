import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {gainDbAt, responseOf} from "../../../src/widgets/bench-state/curves.ts";
import type {BenchView} from "../../../src/widgets/bench-state/bench-state.ts";
import {lowEHz, readingText, type ReadingName} from "../../../src/widgets/bench-state/readings.ts";

const at = (lesson: number, settings = {}): BenchView => ({
  now: {lesson, settings: {...startSetting(lesson).settings, ...settings}},
  held: beforeSetting(lesson),
});
const read = (name: ReadingName, view: BenchView) => readingText(name, view).replaceAll("\u00a0", " ");

test("the low E lies 29 semitones under A = 440 Hz", () => {
  // Equal temperament; published tables print 82.41 Hz [from memory].
  expect(lowEHz).toBeCloseTo(82.41, 2);
});

test("the input corner is that of R1, C1, and R2 beside the amplifier", () => {
  // Worked by hand: 1/(2π·(4.7 kΩ + 1 MΩ ∥ 1 MΩ)·33 nF) and, unplugged, 1/(2π·(4.7 kΩ + 1 MΩ)·33 nF).
  expect(1 / (2 * Math.PI * 504.7e3 * 33e-9)).toBeCloseTo(9.556, 3);
  expect(read("inputCorner", at(2))).toBe("9.56 Hz");
  expect(1 / (2 * Math.PI * 1004.7e3 * 33e-9)).toBeCloseTo(4.8, 2);
  expect(read("inputCornerUnplugged", at(2))).toBe("4.8 Hz");
  expect(read("inputCorner", at(2, {C1: 470e-12}))).toBe("671 Hz");
  expect(read("loadOhms", at(2))).toBe("500 kΩ");
});

test("the hump stands near the resonance of coil and capacitance, a little under it for its losses", () => {
  // 1/(2π√(2.6 H · 870 pF)) = 3346 Hz by hand.
  expect(read("resonanceByFormula", at(1))).toBe("3.35 kHz");
  const peak = responseOf(startSetting(1)).corners.find(({kind}) => kind === "peak");
  expect(peak?.frequencyHz).toBeLessThan(3346);
  expect(peak?.frequencyHz).toBeGreaterThan(0.95 * 3346); // f√(1 − 1/2Q²) with Q ≈ 2.5 takes 4 %
});

test("the pickup and volume control in the course meet the closed form of a loaded resonant divider", () => {
  // Lesson 1, volume full up: R + jωL into C ∥ G, H = 1/((1 + RG − ω²LC) + jω(LG + RC)), worked from the parts alone.
  const [R, L, C, G] = [6.8e3, 2.6, 100e-12 + 470e-12 + 300e-12, 1 / 250e3 + 1 / 1e6];
  for (const hz of [20, lowEHz, 1000, 3270, 5000, 20_000]) {
    const w = 2 * Math.PI * hz;
    const closed = -20 * Math.log10(Math.hypot(1 + R * G - w * w * L * C, w * (L * G + R * C)));
    expect(gainDbAt(startSetting(1), hz)).toBeCloseTo(closed, 8); // rounding of a 5 × 5 solve
  }
});

test("a longer cable takes treble and leaves the low E", () => {
  const change = gainDbAt(at(1, {cable: 20}).now, 5000) - gainDbAt(at(1, {cable: 0.5}).now, 5000);
  expect(change).toBeLessThan(-10);
  expect(Math.abs(gainDbAt(at(1, {cable: 20}).now, lowEHz) - gainDbAt(at(1, {cable: 0.5}).now, lowEHz))).toBeLessThan(
    0.02,
  );
});

test("an ohmmeter at the plug reads the coil's wire with the volume control across it", () => {
  // 6.8 kΩ ∥ 250 kΩ = 6.62 kΩ by hand.
  expect(read("meterAtPlug", at(1))).toBe("6.62 kΩ");
});

test("below its corner a single capacitor costs six decibels an octave and leads by an eighth of a turn at it", () => {
  expect(read("slopeBelowCorner", at(2))).toBe("6 dB"); // 20·log10(2) = 6.02
  expect(Number(read("phaseAtCorner", at(2)).replace("°", ""))).toBeCloseTo(45, 0); // the amplifier's cable takes 0.3°
});

test("the readings of the leg agree with the hand figures of its two resistors and its capacitor", () => {
  // 1/(2π · 3.3 kΩ · 68 nF) = 709 Hz; full up 1/(2π · (330 + 3.3 + 0.05) kΩ · 68 nF) = 7.02 Hz.
  expect(read("legCorner", at(6))).toBe("709 Hz");
  expect(read("legCorner", at(6, {RV1: 1}))).toBe("709 Hz");
  expect(read("lowerLegCornerFull", at(6))).toBe("7.02 Hz");
  expect(read("legCorner", at(6, {C3: 330e-9}))).toBe("146 Hz");
});

test("both corners of the leg are marked where they lie on the axis, and neither with the gain turned down", () => {
  const kinds = (RV1: number) => responseOf(at(6, {RV1}).now).corners.map(({kind}) => kind);
  expect(kinds(0.09)).toEqual(["high corner", "low corner"]);
  expect(kinds(1)).toEqual(["high corner"]); // the lower one is at 7 Hz, left of the axis
  expect(kinds(0)).toEqual([]);
});
