import {expect, test} from "vitest";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import type {DiodeModel, Part} from "../../../src/engine/circuit/part.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {resistor, signalAt} from "../../reference-cases/course-stages.ts";

const diode = (ref: string, a: string, b: string, model: DiodeModel): Part => ({
  kind: "diode",
  ref,
  nodes: [a, b],
  model,
  inSeries: 1,
});

test("a node that hangs on one diode is carried up by the signal and stays there", () => {
  const held = circuit([
    signalAt("s"),
    resistor("R", "s", "a", 1e3),
    diode("D", "a", "n", diodeModels.greenLed),
    resistor("RL", "a", "0", 1e5),
  ]);
  const rate = 48_000;
  const signal = Float64Array.from({length: 960}, (_, n) => 9 * Math.sin((2 * Math.PI * 100 * n) / rate));
  const volts = timeResponse(held, "n", signal, rate);
  expect(volts.every(Number.isFinite)).toBe(true);
  // Charged through the diode to somewhere under the peak, and no way back but leakage of 1e-22 A.
  const atPeak = volts[120 + 5] ?? NaN;
  expect(atPeak).toBeGreaterThan(5);
  expect(atPeak).toBeLessThan(9);
  expect(volts[360] ?? NaN).toBeGreaterThan(atPeak - 0.5); // at the trough of the signal, 18 V lower
});

test("the node between two diodes follows its law at rest, played slowly", () => {
  const pair = (volts = 0) =>
    circuit([
      signalAt("s", volts),
      resistor("R", "s", "a", 1e4),
      diode("D1", "a", "n", {...diodeModels.silicon, seriesOhms: 0}),
      diode("D2", "n", "0", {...diodeModels.silicon, seriesOhms: 0}),
    ]);
  const {at} = steadyCycle(pair(), {frequencyHz: 1, peakVolts: 5}, ["n"], 64);
  const cycle = at.get("n") ?? new Float64Array();
  // The upper half: both conduct, and a femtofarad at 1 Hz takes 1e-14 A. Below, the stray and two blocking diodes share the volts.
  for (const n of [8, 16, 24])
    expect(cycle[n]).toBeCloseTo(restVoltage(operatingPoint(pair(5 * Math.sin((2 * Math.PI * n) / 64))), "n"), 6);
});

test("no course circuit gets a stray: its equations stay its own", () => {
  for (let lesson = 1; lesson <= 16; lesson++) {
    const {circuit: bench} = courseCircuit({lesson, settings: {}});
    expect(operatingPoint(bench).stamps.storage.values.length).toBe(stamps(bench).storage.values.length);
  }
});
