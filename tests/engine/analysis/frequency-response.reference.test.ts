import {expect} from "vitest";
import {frequencyResponse, type ComplexArray} from "../../../src/engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, type ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";

// Source: tests/reference/independent (Kirchhoff's equations by hand, solved to 40 digits). Tolerance and its reason: each case's own.
const record = accuracyTable("frequency-response");

eachCase("gain agrees with the independent data", casesOfKind("ac_gain"), (given) => {
  check(given, frequencyResponse(readCircuit(given), probeNode(given), frequencies(given)));
});

eachCase("impedance agrees with the independent data", casesOfKind("impedance"), (given) => {
  const [node, other] = given.probes[0]?.["port"] as readonly [string, string];
  expect(other).toBe("0");
  check(given, outputImpedance(readCircuit(given), node, frequencies(given)));
});

const frequencies = ({id, analysis}: ReferenceCase) => numbers(id, analysis.freqs_hz);

function check({id, expected, tolerance, title}: ReferenceCase, ours: ComplexArray): void {
  const re = numbers(id, expected["re"]);
  const im = numbers(id, expected["im"]);
  const {rel = 0, abs = 0} = tolerance;
  expect(rel, "a tolerance only tightens").toBeLessThanOrEqual(1e-8);
  expect(ours.re.length).toBe(re.length);
  let worst = 0;
  re.forEach((real, k) => {
    const imaginary = im[k] ?? Number.NaN;
    const size = Math.hypot(real, imaginary);
    const difference = Math.hypot((ours.re[k] ?? Number.NaN) - real, (ours.im[k] ?? Number.NaN) - imaginary);
    worst = Math.max(worst, difference / (rel * size + abs));
    expect(difference, `${id} at point ${k}`).toBeLessThanOrEqual(rel * size + abs);
  });
  record({
    id,
    source: title,
    expected: "25 complex points",
    ours: "largest share of the tolerance",
    difference: worst * rel,
    tolerance: rel,
  });
}
