import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {gainDbAt, responseOf} from "../../../src/widgets/bench-state/curves.ts";
import type {BenchView} from "../../../src/widgets/bench-state/bench-state.ts";
import {printedDifferenceDb} from "../../../src/widgets/bench-state/read-curve.ts";
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
  expect(read("cornerUnplugged", at(2))).toBe("Pull the amplifier’s plug and the corner drops to 4.8 Hz");
  expect(read("cornerUnplugged", at(2, {amplifier: 0}))).toMatch(
    /^Without the amplifier the corner is down to 4\.8 Hz\. What you hear then is the voltage at the open plug/,
  );
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
  expect(read("phaseAtCorner", at(2))).toBe("45°"); // arctan 1
  // Whatever is turned: with C1 a third of the amplifier's cable the bend has moved, and far below it nothing has.
  expect(read("slopeBelowCorner", at(2, {C1: 100e-12}))).toBe("6 dB");
  expect(read("phaseAtCorner", at(2, {C1: 100e-12}))).toBe("45°");
  expect(read("lossOctaveBelow", at(2))).toBe("7 dB"); // 10·log10(5) = 6.99
});

test("a scope counts as a resistor beside R2: ten megohms at ×10, one at ×1", () => {
  // By hand: 1 MΩ ∥ 1 MΩ ∥ 10 MΩ = 476.2 kΩ, 1/(2π · 480.9 kΩ · 33 nF) = 10.03 Hz; with 1 MΩ 338.0 kΩ and 14.27 Hz.
  expect(read("cornerWithProbe", at(2))).toBe("10 Hz");
  expect(read("cornerWithPlainProbe", at(2))).toBe("14.3 Hz");
  // At 1 kHz C1 and the amplifier's cable divide as well: 300 mV · 476.2/480.9 · 33 nF/33.3 nF = 294 mV.
  expect(read("benchPeak", at(2))).toBe("294 mV");
});

test("R1 costs level at the low E as it does at 5 kHz, and not treble alone", () => {
  expect(read("lossOfR1", at(2))).toBe("0.076 dB at the low E and 0.084 dB at 5 kHz, against 100 Ω in its place");
  // By hand at the low E, C1 left out: 20·log10((500 + 6.62 + 4.7)/(500 + 6.62 + 0.1)) = 0.0785 dB; C1 takes a little of it.
  expect(20 * Math.log10(511.32 / 506.72)).toBeCloseTo(0.0785, 4);
});

test("the readings of the leg agree with the hand figures of its two resistors and its capacitor", () => {
  // 1/(2π · 3.3 kΩ · 68 nF) = 709 Hz; full up 1/(2π · (330 + 3.3 + 0.05) kΩ · 68 nF) = 7.02 Hz.
  expect(read("legCorner", at(6))).toBe("709 Hz");
  expect(read("legCorner", at(6, {RV1: 1}))).toBe("709 Hz");
  expect(read("lowerLegCorner", at(6, {RV1: 1}))).toBe("7.02 Hz");
  expect(read("legCorner", at(6, {C3: 330e-9}))).toBe("146 Hz");
});

test("both corners of the leg are marked where they lie on the axis, and neither with the gain turned down", () => {
  const kinds = (RV1: number) => responseOf(at(6, {RV1}).now).corners.map(({kind}) => kind);
  expect(kinds(0.09)).toEqual(["high corner", "low corner"]);
  expect(kinds(1)).toEqual(["high corner"]); // the lower one is at 7 Hz, left of the axis
  expect(kinds(0)).toEqual([]);
});

test("a sentence that a move would make untrue is worded anew", () => {
  expect(read("humpAndFall", at(1))).toMatch(/^Then the curve rises to a hump of 8 dB at 3\.27 kHz/);
  expect(read("humpAndFall", at(1, {guitarVolume: 0.5}))).toMatch(/^It has no hump as the bench stands/);
  expect(read("shareAtLowE", at(1, {guitarVolume: 0}))).toBe("nothing of what the coil makes");
  expect(read("sourceImpedance", at(1))).toMatch(/ and climbs to /);
  // Half up, the coil sees half of the control on either side: past the hump the cable's capacitance wins.
  expect(read("sourceImpedance", at(1, {guitarVolume: 0.5}))).not.toMatch(/climbs|resonance/);
  expect(read("humpBefore", at(1, {cable: 0.5}))).toBe("The hump of the dashed curve stands at the same place");
  expect(read("solidAgainstDashed", at(2))).toMatch(/lies over the dashed one but for a hair/);
  expect(read("solidAgainstDashed", at(2, {C1: 100e-12}))).toMatch(/has come away from the dashed one/);
  expect(read("whereItBends", at(2))).toMatch(/off the edge of the graph/); // 9.56 Hz, and the axis begins at 20 Hz
  expect(read("whereItBends", at(2, {C1: 6.8e-9}))).not.toMatch(/off the edge/); // 46 Hz
  expect(read("loadTogether", at(2, {amplifier: 0}))).toMatch(/its plug is pulled/);
  expect(read("capacitancesInAll", at(1, {amplifier: 0}))).toMatch(/it is unplugged$/);
});

test("differences come out as the printed levels do", () => {
  expect(printedDifferenceDb(0.4349, 0.0612)).toBeCloseTo(0.43 - 0.061, 9);
  expect(printedDifferenceDb(-2.86, -2.53)).toBeCloseTo(-2.9 + 2.5, 9);
  expect(printedDifferenceDb(-Infinity, -Infinity)).toBe(0);
});
