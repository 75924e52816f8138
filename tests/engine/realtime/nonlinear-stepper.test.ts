import {expect, test} from "vitest";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {nonlinearStepper} from "../../../src/engine/realtime/nonlinear-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import type {Method} from "../../../src/engine/realtime/step-model.ts";
import {capacitor, gainStage, pair, resistor, signalAt} from "../../reference-cases/course-stages.ts";

test("a limiter of two diodes, played slowly, follows its curve at rest", () => {
  const limiter = (volts = 0) => circuit([signalAt("s", volts), resistor("R", "s", "d", 1e3), ...pair("d", "0")]);
  const rate = 48e3;
  const signal = Float64Array.from({length: 4800}, (_, n) => 5 * Math.sin((2 * Math.PI * 20 * n) / rate));
  const played = timeResponse(limiter(), "d", signal, rate);
  // No memory, so that only the filters differ: their ripple near 1e-4 on half a volt, away from both ends of the signal.
  for (let n = 600; n < 4200; n += 150) {
    const still = restVoltage(operatingPoint(limiter(signal[n] ?? 0)), "d");
    expect(Math.abs((played[n] ?? Number.NaN) - still), `sample ${n}`).toBeLessThan(1e-4);
  }
});

test.each(["trapezoidal", "Radau IIA"] as const)("a %s step tells how it depends on the memory before it", (method) => {
  const {stamps, x} = operatingPoint(
    circuit([
      signalAt("p"),
      ...gainStage(1, 68e-9, 120e-12),
      ...pair("o", "m"),
      resistor("R5", "o", "t", 1e3),
      capacitor("C6", "t", "0", 10e-9),
    ]),
  );
  const model = stepModel(stamps, [stamps.unknownOf.get("t") ?? -1], 384e3, method satisfies Method);
  const stepper = nonlinearStepper(model, memoryAt(stamps, x));
  for (let n = 1; n <= 200; n++) stepper.step(0.1 * Math.sin(n / 40), 0.1 * Math.sin((n - 2 / 3) / 40));
  const {states} = model;
  const before = Float64Array.from(stepper.state);
  const points = Float64Array.from(stepper.points);
  const after = (memory: Float64Array): Float64Array => {
    stepper.state.set(memory);
    stepper.points.set(points);
    // Twice, so that the second starts where the first ended: the guess no longer matters.
    stepper.step(-0.05, -0.03);
    stepper.state.set(memory);
    expect(stepper.step(-0.05, -0.03)).toBe(true);
    return Float64Array.from(stepper.state);
  };
  after(before);
  const exact = new Float64Array(states * states);
  stepper.sensitivity(exact);
  const largest = exact.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // The diodes must have their part in it, or the linear matrix alone would do.
  const byDiodes = exact.reduce((most, value, k) => Math.max(most, Math.abs(value - (model.A[k] ?? 0))), 0);
  expect(byDiodes).toBeGreaterThan(0.01 * largest);
  for (let k = 0; k < states; k++) {
    const nudge = 1e-4 * Math.max(1e-12, Math.abs(before[k] ?? 0));
    const moved = (by: number) => after(before.map((value, at) => (at === k ? value + by : value)));
    const [up, down] = [moved(nudge), moved(-nudge)];
    for (let i = 0; i < states; i++) {
      const finite = ((up[i] ?? Number.NaN) - (down[i] ?? Number.NaN)) / (2 * nudge);
      // The difference's own error: the square of a nudge of 1e-4, and Newton's last step over the nudge.
      expect(Math.abs(finite - (exact[i * states + k] ?? Number.NaN)), `d${i}/d${k}`).toBeLessThan(1e-4 * largest);
    }
  }
});
