import {expect, test} from "vitest";
import {frequencyResponse} from "../../../src/engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {noiseDensity} from "../../../src/engine/analysis/noise.ts";
import {operatingPoint, restCurrent, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {withFault} from "../../../src/engine/circuit/faults.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {capacitor, resistor} from "../../reference-cases/course-stages.ts";

const battery: Part = {kind: "voltage source", ref: "B", nodes: ["p", "0"], volts: 9, seriesOhms: 2, signal: true};
const loaded = circuit([battery, resistor("R", "p", "0", 98), capacitor("C", "p", "0", 1e-4)]);

test("a supply with a resistance inside sags under its load: 9 V, 2 Ω, 98 Ω", () => {
  const point = operatingPoint(loaded);
  // Ohm's law, in double precision.
  expect(restVoltage(point, "p")).toBeCloseTo(9 * 0.98, 13);
  expect(restCurrent(point, "B")).toBeCloseTo(-0.09, 13); // out of its plus: against the way from first node to second
  expect(point.residualAmperes).toBeLessThan(1e-12);
});

test("its terminals show the resistance inside, beside the load", () => {
  const bare = circuit([battery, resistor("R", "p", "0", 98)]);
  expect(outputImpedance(bare, "p", Float64Array.of(1e3)).re[0]).toBeCloseTo((2 * 98) / 100, 12);
  // 4kT·R of both, beside each other; 300 K.
  const {density, contributions} = noiseDensity(bare, "p", Float64Array.of(1e3));
  expect(Math.abs((density[0] ?? NaN) / Math.sqrt(4 * 1.380649e-23 * 300 * 1.96) - 1)).toBeLessThan(1e-12);
  expect(contributions.find(({ref}) => ref === "B")?.kind).toBe("thermal");
});

test("with a capacitor it is a low-pass of 1/(2π·(2 Ω ∥ 98 Ω)·C), over frequency and over time", () => {
  const tau = 1.96 * 1e-4;
  const {re, im} = frequencyResponse(loaded, "p", Float64Array.of(1 / (2 * Math.PI * tau)));
  expect(Math.hypot(re[0] ?? NaN, im[0] ?? NaN)).toBeCloseTo(0.98 / Math.SQRT2, 12);
  const rate = 192_000;
  const out = timeResponse(loaded, "p", new Float64Array(400).fill(1, 1), rate, {oversampling: 1});
  const wanted = 9 * 0.98 + 0.98 * (1 - Math.exp(-(200 - 0.5) / rate / tau));
  expect(out[200]).toBeCloseTo(wanted, 4); // trapezoidal: (h/τ)²/12 = 6e-5 of what is left of the step
});

test("a source with a resistance may be shorted, and a broken lead leaves its volts behind the air", () => {
  const shorted = operatingPoint(withFault(loaded, {ref: "B", kind: "short"}));
  expect(restCurrent(shorted, "B")).toBeCloseTo(-4.5, 12);
  const open = operatingPoint(withFault(loaded, {ref: "B", kind: "open"}));
  expect(Math.abs(restVoltage(open, "p"))).toBeLessThan(1e-9);
});
