import {describe, expect, test} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {controlsOf, courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {nonlinearStepper} from "../../../src/engine/realtime/nonlinear-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";

const settingsPerLesson = 10;
const steps = 150;
const rateHz = 384_000;
const peakVolts = 20;

/** The lesson's start setting, and settings with every control on a stop drawn at random: reversed batteries too. */
function settingsOf(lesson: number): readonly Readonly<Record<string, number>>[] {
  const draw = seededNoise(lesson);
  const random = controlsOf(lesson);
  const start = startSetting(lesson).settings;
  return Array.from({length: settingsPerLesson}, (_, k) =>
    k === 0
      ? start
      : Object.fromEntries(
          random.map(({name, values}) => [name, values[Math.floor(((draw() + 1) / 2) * values.length)] ?? 0]),
        ),
  );
}

// Noise of 20 V a sample at 384 kHz is worse than any guitar: what solves this solves all that a reader can do.
describe.each(Array.from({length: 18}, (_, k) => k + 4))("lesson %i under noise of 20 V", (lesson) => {
  test.each(["trapezoidal", "Radau IIA"] as const)("every step is solved and stays finite, %s", (method) => {
    for (const settings of settingsOf(lesson)) {
      const {circuit, listenAt} = courseCircuit({lesson, settings});
      const {stamps, x} = operatingPoint(circuit);
      const model = stepModel(stamps, [stamps.unknownOf.get(listenAt) ?? -1], rateHz, method);
      const stepper = nonlinearStepper(model, memoryAt(stamps, x));
      const draw = seededNoise(7);
      let unsolved = 0;
      let highest = 0;
      for (let n = 0; n < steps; n++) {
        if (!stepper.step(peakVolts * draw(), peakVolts * draw())) unsolved++;
        const volts = Math.abs(stepper.output[0] ?? Number.NaN);
        highest = volts > highest || Number.isNaN(volts) ? volts : highest;
      }
      const which = JSON.stringify(settings);
      expect(unsolved, which).toBe(0);
      // Twice the highest supply of 18 V: coupling capacitors may add their rest voltage to a swing between the rails.
      expect(highest, which).toBeLessThan(36);
    }
  });
});
