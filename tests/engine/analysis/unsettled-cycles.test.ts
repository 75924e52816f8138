import {expect, test} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {CircuitError} from "../../../src/engine/circuit/circuit-error.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {capacitor, resistor, signalAt, supplyAt} from "../../reference-cases/course-stages.ts";

test("a battery's diode that charges and rails that are just met lead no cycle astray: cycle after cycle arrives there too", () => {
  const settings = {
    guitarVolume: 0.6,
    cable: 3,
    R1: 120,
    C1: 180e-9,
    R2: 3.9e6,
    batteryVolts: 18,
    D3: 1,
    R8: 470e3,
    R9: 68e3,
    C8: 12e-6,
    U1: 2,
    RV1: 0.53,
    RV1Ohms: 50e3,
    R3: 820,
    C3: 27e-9,
    amplifierOhms: 680e3,
    amplifierCable: 8,
    amplifier: 1,
  };
  const {circuit: bench, listenAt} = courseCircuit({lesson: 6, settings});
  const [frequencyHz, peakVolts, steps] = [986.8929328538707, 0.6791667280917831, 256];
  const settled = steadyCycle(bench, {frequencyHz, peakVolts}, [listenAt], steps, 1).at.get(listenAt);

  const {stamps, x} = operatingPoint(bench);
  const unknown = stamps.unknownOf.get(listenAt) ?? -1;
  const stepper = blockStepper(stepModel(stamps, [unknown], steps * frequencyHz, "Radau IIA"), memoryAt(stamps, x));
  const inputs = Float64Array.from(
    {length: 2 * steps},
    (_, k) => peakVolts * Math.sin((2 * Math.PI * ((k >> 1) + (k % 2 === 0 ? 1 / 3 : 1))) / steps),
  );
  const run = new Float64Array(steps);
  for (let cycle = 0; cycle < 10_000; cycle++) stepper.run(inputs, run);
  const worst = run.reduce(
    (most, volts, n) => Math.max(most, Math.abs(volts - (settled?.[(n + 1) % steps] ?? NaN))),
    0,
  );
  expect(worst).toBeLessThan(1e-6); // of 1.8 V; what the run still has to go
});

test("a circuit that oscillates by itself has no settled cycle, and that is said", () => {
  const oscillator = circuit([
    signalAt("s"),
    supplyAt("V+", "vcc", 9),
    supplyAt("V-", "vee", -9),
    resistor("Rs", "s", "p", 100e3),
    resistor("R1", "p", "0", 10e3),
    resistor("R2", "out", "p", 10e3),
    resistor("R3", "out", "m", 10e3),
    capacitor("C", "m", "0", 100e-9),
    {
      kind: "op-amp",
      ref: "U1",
      nodes: ["p", "m", "out"],
      supply: {positive: "vcc", negative: "vee"},
      model: opAmpModels.lm358,
    },
  ]);
  const asked = () => steadyCycle(oscillator, {frequencyHz: 1000, peakVolts: 1}, ["out"], 64, 2);
  expect(asked).toThrow(CircuitError);
  expect(asked).toThrow("no settled cycle was found at 1000 Hz and 1 V; a circuit that oscillates by itself has none");
});
