import {expect, test} from "vitest";
import {frequencyResponse} from "../../../src/engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {sensitivities} from "../../../src/engine/analysis/sensitivity.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels, type DiodeName} from "../../../src/engine/circuit/models/diodes.ts";
import type {NodeName, Part} from "../../../src/engine/circuit/part.ts";
import {capacitor, resistor, signalAt} from "../../reference-cases/course-stages.ts";

const diode = (ref: string, a: NodeName, b: NodeName, name: DiodeName): Part => ({
  kind: "diode",
  ref,
  nodes: [a, b],
  model: {...diodeModels[name], seriesOhms: 0},
  inSeries: 1,
});
const slopeAtRest = (name: DiodeName): number => {
  const {saturationCurrent, emissionCoefficient, thermalVoltage} = diodeModels[name];
  return saturationCurrent / (emissionCoefficient * thermalVoltage);
};
const frequencies = Float64Array.of(20, 440, 20e3);
/** 100 S between b and c, and 50 S on to d. */
const island = [resistor("R1", "b", "c", 0.01), resistor("R2", "c", "d", 0.02), capacitor("C1", "b", "d", 1e-5)];

test.each([0, 20, -20])("what hangs on one blocking diode beside 100 S follows it, with %d V behind", (volts) => {
  const hung = circuit([signalAt("a", volts), diode("D1", "a", "b", "blueLed"), ...island]);
  for (const node of ["b", "c", "d"]) {
    const {re, im} = frequencyResponse(hung, node, frequencies);
    // Nothing else holds it: the whole signal is there.
    for (const value of re) expect(value).toBeCloseTo(1, 9);
    for (const value of im) expect(value).toBeCloseTo(0, 9);
  }
});

test.each([
  ["blueLed", "redLed"],
  ["redLed", "blueLed"],
  ["germanium", "blueLed"],
  ["blueLed", "germanium"],
] as const)("an island between a %s and a %s divides by their slopes, over sixteen decades", (first, second) => {
  const divider = circuit([signalAt("a"), diode("D1", "a", "b", first), ...island, diode("D2", "d", "0", second)]);
  const [g1, g2] = [slopeAtRest(first), slopeAtRest(second)];
  for (const node of ["b", "c", "d"])
    for (const value of frequencyResponse(divider, node, frequencies).re)
      expect(value / (g1 / (g1 + g2))).toBeCloseTo(1, 6); // rest is found to a picoampere: 1e-7 V over a germanium diode
  // The diodes side by side, seen from inside the island.
  const seen = outputImpedance(divider, "c", frequencies).re[0] ?? NaN;
  expect(seen * (g1 + g2)).toBeCloseTo(1, 6);
});

test("an island that hangs on an island by a firmer diode keeps what little holds both", () => {
  const chain = circuit([
    signalAt("a"),
    diode("D1", "a", "b", "blueLed"),
    ...island,
    diode("D2", "d", "e", "germanium"),
    resistor("R3", "e", "f", 0.01),
    diode("D3", "f", "0", "redLed"),
  ]);
  const [g1, g2, g3] = [slopeAtRest("blueLed"), slopeAtRest("germanium"), slopeAtRest("redLed")];
  const ohms = 1 / g1 + 1 / g2 + 1 / g3;
  const at = (node: NodeName) => frequencyResponse(chain, node, frequencies).re[0] ?? NaN;
  expect(at("d") / ((1 / g2 + 1 / g3) / ohms)).toBeCloseTo(1, 9);
  expect(at("f") / (1 / g3 / ohms)).toBeCloseTo(1, 9);
});

test("no part inside an island has a say in what it divides", () => {
  const parts = [signalAt("a"), diode("D1", "a", "b", "redLed"), ...island, diode("D2", "d", "0", "blueLed")];
  const rows = sensitivities(circuit(parts), "d", Float64Array.of(1e3));
  expect(rows.length).toBeGreaterThan(2);
  // 1e-19 S of current through 100 S: seventeen decades below the whole.
  for (const {ref, gain} of rows) if (/^[RC]/.test(ref)) expect(Math.abs(gain?.[0] ?? NaN), ref).toBeLessThan(1e-12);
});

test("what hangs on ten femtofarads beside 100 S follows them at every frequency", () => {
  const parts = [signalAt("a"), capacitor("C0", "a", "b", 1e-14), ...island];
  for (const node of ["b", "c", "d"])
    for (const value of frequencyResponse(circuit(parts), node, frequencies).re) expect(value).toBeCloseTo(1, 12);
  const half = [...parts, capacitor("C9", "d", "0", 1e-14)];
  for (const node of ["b", "c", "d"])
    for (const value of frequencyResponse(circuit(half), node, frequencies).re) expect(value).toBeCloseTo(0.5, 9);
});

const tenMicroOhms = (ref: string, a: NodeName, b: NodeName): Part => ({
  kind: "variable resistor",
  ref,
  nodes: [a, b],
  ohms: 0.01,
  position: 0,
  taper: "linear",
  endOhms: 1e-5,
});

test("what hangs on one diode beside 100 kS rests where the diode's other end does", () => {
  const hung = circuit([
    signalAt("a", 20),
    resistor("R1", "a", "b", 50),
    resistor("R2", "b", "0", 1e3),
    {...diode("D1", "b", "c", "blueLed"), inSeries: 2} as Part,
    tenMicroOhms("RV", "c", "d"),
  ]);
  const rest = operatingPoint(hung);
  // No current: no voltage over the diode.
  for (const node of ["b", "c", "d"]) expect(restVoltage(rest, node)).toBeCloseTo(20 / 1.05, 12);
});

test("12 A through 10 µΩ leave their digits to 100 µV, beside what hangs on a blocking diode", () => {
  const shorted = circuit([
    signalAt("inside", -12.45),
    resistor("R", "inside", "n1", 1),
    tenMicroOhms("RV", "0", "n1"),
    diode("D", "n1", "n2", "redLed"),
  ]);
  const rest = operatingPoint(shorted);
  expect(restVoltage(rest, "n1") / (-12.45 * (1e-5 / 1.00001))).toBeCloseTo(1, 12);
  expect(restVoltage(rest, "n2")).toBe(restVoltage(rest, "n1"));
});
