import {expect, test} from "vitest";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {withPart, without} from "../../../src/engine/circuit/changes.ts";
import {courseCircuit, startSetting, type Settings} from "../../../src/engine/course/course-circuit.ts";
import {inputFilter, partOf} from "../../../src/engine/course/formulas.ts";

/** Lesson 2 with the coil a wire and what lies across it gone: the analysis of what is left knows nothing of the formula. */
function withoutHump(settings: Settings) {
  const {circuit, listenAt} = courseCircuit({lesson: 2, settings: {...startSetting(2).settings, ...settings}});
  const coil = partOf(circuit, "pickup inductance");
  if (coil?.kind !== "inductor") throw new Error("the guitar has a coil");
  const flat = without(without(circuit, "pickup capacitance"), "cable");
  return {circuit, flat: withPart(flat, {kind: "wire", ref: coil.ref, nodes: coil.nodes}), listenAt};
}

test.each<[string, Settings]>([
  ["the start", {}],
  ["C1 smaller than the amplifier's cable", {C1: 100e-12}],
  ["R2 as small as the guitar's own resistance", {R2: 10e3}],
  ["R1 large", {R1: 1e6, C1: 1e-9}],
  ["the guitar's volume half way", {guitarVolume: 0.5, C1: 470e-12}],
  ["no amplifier", {amplifier: 0, C1: 1e-9}],
])("with %s C1's filter bends and levels off as the solved circuit does", (_, settings) => {
  const {circuit, flat, listenAt} = withoutHump(settings);
  const {peak, low} = responseCorners(flat, listenAt, {lowHz: 0.1, highHz: 1e7});
  const {bendHz, levelDb} = inputFilter(circuit);
  // Both are exact up to rounding, but for a peak that is found between the grid's points and is flat.
  expect(bendHz / (low ?? Number.NaN)).toBeCloseTo(1, 5);
  expect(levelDb).toBeCloseTo(peak.gainDb, 5);
});

test("by hand: 500 kΩ after C1, and 6.62 kΩ of guitar and 4.7 kΩ of R1 before it", () => {
  // R·(C1 + C) + Rs·C1 = 500 kΩ · 33.3 nF + 11.32 kΩ · 33 nF = 17.02 ms: 9.349 Hz; the level is 0.974 · 16.5/17.02 = −0.505 dB.
  const {circuit} = courseCircuit(startSetting(2));
  expect(inputFilter(circuit).bendHz).toBeCloseTo(9.349, 2);
  expect(inputFilter(circuit).levelDb).toBeCloseTo(-0.505, 2);
});
