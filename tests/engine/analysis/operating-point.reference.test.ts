import {expect} from "vitest";
import {frequencyResponse} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, type ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";
import type {Circuit} from "../../../src/engine/circuit/circuit.ts";

// Source: tests/reference/independent (static laws solved to 40 digits). Tolerance and its reason: each case's own.
const record = accuracyTable("operating-point");

function near(given: ReferenceCase, what: string, ours: number, expected: number): void {
  const {rel = 0, abs = 0} = given.tolerance;
  const tolerance = rel * Math.abs(expected) + abs;
  record({
    id: `${given.id} ${what}`,
    source: given.title,
    expected,
    ours,
    difference: Math.abs(ours - expected),
    tolerance,
  });
  expect(Math.abs(ours - expected), `${given.id} ${what}: ${ours} for ${expected}`).toBeLessThanOrEqual(tolerance);
}

eachCase("the circuit rests where the case says", casesOfKind("dc_operating_point"), (given) => {
  const circuit = readCircuit(given);
  const point = operatingPoint(circuit);
  expect(point.residualAmperes).toBeLessThan(1e-12);
  for (const [key, value] of Object.entries(given.expected)) {
    if (typeof value !== "number") throw new Error(`${given.id}: ${key} is no number`);
    const current = /^i_(.+)$/.exec(key);
    if (current === null) near(given, key, restVoltage(point, key.replace(/^v_/, "")), value);
    else near(given, key, currentThrough(given, circuit, point, current[1] ?? ""), value);
  }
});

function currentThrough(
  given: ReferenceCase,
  circuit: Circuit,
  point: ReturnType<typeof operatingPoint>,
  ref: string,
): number {
  const direction = String(given.probes.find((probe) => probe["current_through"] === ref)?.["direction"]);
  const [from = "", to = ""] = direction.split("->");
  const part = circuit.parts.find((each) => each.ref === ref);
  if (part?.kind !== "resistor") throw new Error(`${given.id}: no way to read the current through ${ref}`);
  return (restVoltage(point, from) - restVoltage(point, to)) / part.ohms;
}

eachCase("the static transfer follows the case", casesOfKind("dc_sweep"), (given) => {
  const circuit = readCircuit(given);
  const output = probeNode(given);
  const expected = numbers(given.id, given.expected["v_out"]);
  numbers(given.id, given.analysis["values"]).forEach((signal, k) => {
    near(given, `at ${signal} V`, restVoltage(operatingPoint(circuit, {signal}), output), expected[k] ?? Number.NaN);
  });
  const slope = given.expected["small_signal_gain_at_0"];
  if (typeof slope === "number") {
    near(given, "small-signal gain", frequencyResponse(circuit, output, Float64Array.of(0)).re[0] ?? Number.NaN, slope);
  }
});
