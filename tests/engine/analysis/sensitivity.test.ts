import {expect, test} from "vitest";
import {frequencyResponse, magnitude} from "../../../src/engine/analysis/frequency-response.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {cornerSensitivities, sensitivities} from "../../../src/engine/analysis/sensitivity.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import {partNamed, valueOf, withValue} from "../../../src/engine/circuit/changes.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
import {capacitor, resistor} from "../../reference-cases/course-stages.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";

const record = accuracyTable("sensitivity");

// Source: tests/reference/independent/07 (symbolic derivatives). Tolerance and its reason: each case's own.
eachCase("sensitivities agree with the independent data", casesOfKind("sensitivity"), (given) => {
  const {id} = given;
  const frequencies = numbers(id, given.analysis.freqs_hz);
  const circuit = readCircuit(given);
  const ours = sensitivities(circuit, probeNode(given), frequencies);
  const {rel = 0, abs = 0} = given.tolerance;
  let worst = 0;
  for (const [name, values] of Object.entries(given.expected["sensitivity"] as Record<string, unknown>)) {
    const [ref, quantity] = name.endsWith("_resistance")
      ? [name.replace("_resistance", ""), "resistance"]
      : [name, "value"];
    const row = ours.find((each) => each.ref === ref && each.quantity === quantity);
    numbers(id, values).forEach((value, k) => {
      const difference = Math.abs((row?.gain[k] ?? Number.NaN) - value);
      worst = Math.max(worst, difference / (rel * Math.abs(value) + abs));
      expect(difference, `${id} ${name} ${k}`).toBeLessThanOrEqual(rel * Math.abs(value) + abs);
    });
  }
  const nominal = magnitude(frequencyResponse(circuit, probeNode(given), frequencies));
  numbers(id, given.expected["abs_H_nominal"]).forEach((value, k) =>
    expect(Math.abs((nominal[k] ?? 0) / value - 1)).toBeLessThan(1e-9),
  ); // "corners: rel 1e-9"
  record({
    id,
    source: given.title,
    expected: "every sensitivity",
    ours: "largest share of the tolerance",
    difference: worst * rel,
    tolerance: rel,
  });
});

test("in the whole pedal each sensitivity is what a small change of the part does", () => {
  const {circuit, listenAt} = courseCircuit(startSetting(16));
  const frequencies = Float64Array.of(82.41, 1e3, 5e3);
  const at = (of: typeof circuit) => magnitude(frequencyResponse(of, listenAt, frequencies));
  const rows = sensitivities(circuit, listenAt, frequencies).filter(({quantity}) => quantity === "value");
  expect(rows.length).toBeGreaterThan(20);
  for (const {ref, gain} of rows) {
    const value = valueOf(partNamed(circuit, ref)) ?? Number.NaN;
    const [up, down] = [at(withValue(circuit, ref, value * 1.0001)), at(withValue(circuit, ref, value * 0.9999))];
    gain.forEach((sensitivity, k) => {
      const slope = Math.log((up[k] ?? 0) / (down[k] ?? 0)) / Math.log(1.0001 / 0.9999);
      // A central difference of 1e-4 leaves 1e-8 of the third derivative and 1e-12 of rounding; the divider also moves D3's slope a little.
      expect(Math.abs(sensitivity - slope), `${ref} at ${frequencies[k]} Hz`).toBeLessThan(1e-5);
    });
  }
});

test("the corner of RC is −1 sensitive to R and to C, and the pedal's corners follow small changes", () => {
  const {circuit, listenAt} = courseCircuit(startSetting(16));
  for (const side of ["low", "high"] as const) {
    const found = cornerSensitivities(circuit, listenAt, side);
    expect(found).toBeDefined();
    for (const {ref, quantity, corner} of found?.parts ?? []) {
      if (quantity !== "value") continue;
      const value = valueOf(partNamed(circuit, ref)) ?? Number.NaN;
      const hz = (factor: number) =>
        responseCorners(withValue(circuit, ref, value * factor), listenAt)[side] ?? Number.NaN;
      const slope = Math.log(hz(1.001) / hz(0.999)) / Math.log(1.001 / 0.999);
      expect(Math.abs(corner - slope), `${side} ${ref}`).toBeLessThan(1e-4); // central difference of 1e-3: 1e-6 of the third derivative, corners to 1e-9
    }
  }
});

test("corners of first-order networks follow their parts as 1/(2πRC) and its shares say", () => {
  const source: Part = {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true};
  const lowPass = circuit([source, resistor("R", "in", "out", 1e4), capacitor("C", "out", "0", 1e-8)]);
  const of = (whole: Circuit, side: "low" | "high") => {
    const found = cornerSensitivities(whole, "out", side, {
      lowHz: 1e-3,
      highHz: 1e9,
      ...(side === "high" ? {referenceDb: 0} : {}),
    });
    return Object.fromEntries((found?.parts ?? []).map(({ref, corner}) => [ref, corner]));
  };
  const high = of(lowPass, "high");
  // Exact but for where the corner is, found to 1e-9.
  expect(high["R"]).toBeCloseTo(-1, 7);
  expect(high["C"]).toBeCloseTo(-1, 7);
  // C1 into R2 behind R1: corner 1/(2π(R1 + R2)C1), so that each resistor counts by its share of the sum.
  const input = circuit([
    source,
    resistor("R1", "in", "a", 2e3),
    capacitor("C1", "a", "out", 1e-7),
    resistor("R2", "out", "0", 6e3),
  ]);
  const low = of(input, "low");
  expect(low["R1"]).toBeCloseTo(-0.25, 6); // the peak is read at 1 GHz: (f/corner)² = 1e-13 away
  expect(low["R2"]).toBeCloseTo(-0.75, 6);
  expect(low["C1"]).toBeCloseTo(-1, 6);
});

test("a potentiometer's end resistance is not part of its track's share", () => {
  const of = (ohms: number) =>
    circuit([
      {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true},
      {
        kind: "potentiometer",
        ref: "RV",
        nodes: ["in", "out", "0"],
        ohms,
        position: 0.25,
        taper: "linear",
        endOhms: 1e3,
      },
      resistor("RL", "out", "0", 5e3),
    ]);
  const gain = (ohms: number) => magnitude(frequencyResponse(of(ohms), "out", Float64Array.of(1e3)))[0] ?? NaN;
  const slope = Math.log(gain(10.001e3) / gain(9.999e3)) / Math.log(10.001 / 9.999);
  const exact = sensitivities(of(10e3), "out", Float64Array.of(1e3)).find(({ref}) => ref === "RV")?.gain[0] ?? NaN;
  expect(exact).toBeCloseTo(slope, 7); // central difference of 1e-4: 1e-8 of the third derivative
});
