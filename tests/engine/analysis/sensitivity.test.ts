import {expect, test} from "vitest";
import {frequencyResponse, magnitude} from "../../../src/engine/analysis/frequency-response.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {cornerSensitivities, sensitivities} from "../../../src/engine/analysis/sensitivity.ts";
import {partNamed, valueOf, withValue} from "../../../src/engine/circuit/changes.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
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
