import {expect, test} from "vitest";
import {frequencyResponse, magnitude, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {
  monteCarlo,
  usualTolerances,
  whichPartPays,
  worstCase,
  type Tolerances,
} from "../../../src/engine/analysis/tolerance.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";

const record = accuracyTable("tolerance");

// Source: tests/reference/independent/07; "corners: rel 1e-9" in the cases' own reason.
eachCase("extremes over all corners agree with the independent data", casesOfKind("sensitivity"), (given) => {
  const {id} = given;
  const {R, C, RV1_full} = given.analysis["corner_tolerances"] as {R: number; C: number; RV1_full: number};
  const tolerances: Tolerances = {byKind: {resistor: R, capacitor: C, "variable resistor": RV1_full}};
  const frequencies = numbers(id, given.analysis.freqs_hz);
  const {lowest, highest} = worstCase(readCircuit(given), tolerances, (of) =>
    magnitude(frequencyResponse(of, probeNode(given), frequencies)),
  );
  for (const [ours, name] of [
    [lowest, "abs_H_min_over_corners"],
    [highest, "abs_H_max_over_corners"],
  ] as const) {
    numbers(id, given.expected[name]).forEach((value, k) => {
      record({
        id: `${id} ${name} ${k}`,
        source: given.title,
        expected: value,
        ours: ours[k] ?? 0,
        difference: Math.abs((ours[k] ?? 0) - value),
        tolerance: 1e-9 * value,
      });
      expect(Math.abs((ours[k] ?? Number.NaN) / value - 1), `${id} ${name} ${k}`).toBeLessThan(1e-9);
    });
  }
});

eachCase("a corner's extremes agree with the independent data", casesOfKind("worst_case_corner"), (given) => {
  const {id} = given;
  // The case's R and C as a low-pass, whose −3 dB point is 1/(2πRC); its gain at 0 Hz is 1.
  const values = (given.netlist ?? []).map(({kind, value}) => ({kind, value: Number(value)}));
  const [ohms, farads] = ["resistor", "capacitor"].map(
    (kind) => values.find((each) => each.kind === kind)?.value ?? Number.NaN,
  );
  const lowPass = circuit([
    {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true},
    {kind: "resistor", ref: "R", nodes: ["in", "out"], ohms: ohms ?? 0},
    {kind: "capacitor", ref: "C", nodes: ["out", "0"], farads: farads ?? 0},
  ]);
  const tolerances: Tolerances = {byRef: {R: Number(given.analysis["R_tol"]), C: Number(given.analysis["C_tol"])}};
  const {lowest, nominal, highest} = worstCase(lowPass, tolerances, (of) => [
    responseCorners(of, "out", {lowHz: 0.01, referenceDb: 0}).high ?? Number.NaN,
  ]);
  for (const [ours, name] of [
    [nominal, "nominal_hz"],
    [lowest, "min_hz"],
    [highest, "max_hz"],
  ] as const) {
    const value = Number(given.expected[name]);
    record({
      id: `${id} ${name}`,
      source: given.title,
      expected: value,
      ours: ours[0] ?? 0,
      difference: Math.abs((ours[0] ?? 0) - value),
      tolerance: 1e-12 * value,
    });
    expect(Math.abs((ours[0] ?? Number.NaN) / value - 1), `${id} ${name}`).toBeLessThan(given.tolerance.rel ?? 0);
  }
});

const {circuit: pedal, listenAt} = courseCircuit(startSetting(18));
const frequencies = Float64Array.of(82.41, 330, 1e3, 5e3);
const gainDb = (of: typeof pedal) => magnitudeDb(frequencyResponse(of, listenAt, frequencies));

test("the bands lie around the marked circuit and inside the worst case, and the same seed gives the same bands", () => {
  const bands = monteCarlo(pedal, usualTolerances, gainDb, {runs: 200});
  expect(monteCarlo(pedal, usualTolerances, gainDb, {runs: 200})).toEqual(bands);
  expect(monteCarlo(pedal, usualTolerances, gainDb, {runs: 200, seed: 2})).not.toEqual(bands);
  const {lowest, nominal, highest} = worstCase(pedal, usualTolerances, gainDb);
  nominal.forEach((level, k) => {
    expect(bands.low[k]).toBeLessThan(bands.middle[k] ?? 0);
    expect(bands.middle[k]).toBeLessThan(bands.high[k] ?? 0);
    expect(Math.abs((bands.middle[k] ?? 0) - level)).toBeLessThan(0.3); // median of a few hundred draws of about ±1.5 dB
    expect(bands.low[k]).toBeGreaterThan(lowest[k] ?? 0);
    expect(bands.high[k]).toBeLessThan(highest[k] ?? 0);
  });
});

test("5 % of the draws of one resistor lie under the 5 % line, which is where an even spread has it", () => {
  const divider = circuit([
    {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true},
    {kind: "resistor", ref: "R", nodes: ["in", "0"], ohms: 1e3},
  ]);
  const ohms = (of: typeof divider) => of.parts.flatMap((part) => (part.kind === "resistor" ? [part.ohms] : []));
  const {low, middle, high} = monteCarlo(divider, {byRef: {R: 0.1}}, ohms, {runs: 4000});
  // Evenly from 900 to 1100 Ω: lines at 910, 1000, 1090 Ω; the quantile of 4000 draws strays by √(p·(1−p)/4000)·200 Ω, 0.7 to 1.6 Ω: four of them.
  expect(Math.abs((low[0] ?? 0) - 910)).toBeLessThan(2.8);
  expect(Math.abs((middle[0] ?? 0) - 1000)).toBeLessThan(6.4);
  expect(Math.abs((high[0] ?? 0) - 1090)).toBeLessThan(2.8);
});

test("the gain control pays most in the mid band, and the shares add up to one", () => {
  const payoffs = whichPartPays(pedal, listenAt, Float64Array.of(2e3));
  expect(payoffs[0]?.ref).toBe("RV1");
  expect(payoffs.reduce((sum, {share}) => sum + share, 0)).toBeCloseTo(1, 12);
});

test("a tolerance of a part that is not there, or beyond ±100 %, is an error", () => {
  expect(() => worstCase(pedal, {byRef: {R99: 0.1}}, gainDb)).toThrow(/^no part is called "R99"/);
  expect(() => worstCase(pedal, {byRef: {R1: 1}}, gainDb)).toThrow("R1: a tolerance must be from 0 to under 1, got 1");
});
