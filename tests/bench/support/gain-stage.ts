import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import type {DiodeModel} from "../../../src/engine/circuit/part.ts";
import {blockStepper, type BlockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {adaptiveRun, type AdaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {stepLadder, type StepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import type {Method} from "../../../src/engine/realtime/step-model.ts";

// Without series resistance: the programs beside this one have none, and it would cost a Lambert function a look.
const diode: DiodeModel = {...diodeModels.silicon, seriesOhms: 0};

/** The clipping stage at full gain, as the programs beside it have it too: output "o", signal source at "p". */
export const gainStage = circuit([
  {kind: "voltage source", ref: "V", nodes: ["p", "0"], volts: 0, signal: true},
  {kind: "op-amp", ref: "U1", nodes: ["p", "m", "o"], model: opAmpModels.ideal},
  {kind: "resistor", ref: "RV1", nodes: ["o", "m"], ohms: 330050},
  {kind: "capacitor", ref: "C4", nodes: ["o", "m"], farads: 120e-12},
  {kind: "diode", ref: "D1", nodes: ["o", "m"], model: diode, inSeries: 1},
  {kind: "diode", ref: "D2", nodes: ["m", "o"], model: diode, inSeries: 1},
  {kind: "resistor", ref: "R3", nodes: ["m", "n"], ohms: 3300},
  {kind: "capacitor", ref: "C3", nodes: ["n", "0"], farads: 68e-9},
]);

/** That stage at rest, stepped in blocks; its output the voltage of "o". */
export function gainStageStepper(sampleRateHz: number, method: Method): BlockStepper {
  const {stamps, x} = operatingPoint(gainStage);
  const model = stepModel(stamps, [stamps.unknownOf.get("o")!], sampleRateHz, method);
  return blockStepper(model, memoryAt(stamps, x));
}

/** That stage's steps of whatever length, derived when they are first wanted. */
export function gainStageLadder(): StepLadder {
  const {stamps} = operatingPoint(gainStage);
  return stepLadder(stamps, [stamps.unknownOf.get("o")!], 0.02);
}

/** That stage at rest, with steps of its own choice under a sine; its output the voltage of "o". */
export function gainStageRun(ladder: StepLadder, hertz: number, peakVolts: number, tolerance: number): AdaptiveRun {
  const {stamps, x} = operatingPoint(gainStage);
  const sine = (seconds: number) => peakVolts * Math.sin(2 * Math.PI * hertz * seconds);
  return adaptiveRun(ladder, memoryAt(stamps, x), sine, {relative: tolerance, volts: tolerance}, true);
}

/** The input of `steps` steps of a sine from rest, as the method wants it. */
export function sineInput(
  hertz: number,
  peakVolts: number,
  rateHz: number,
  steps: number,
  method: Method,
): Float64Array {
  const at = (n: number) => peakVolts * Math.sin((2 * Math.PI * hertz * n) / rateHz);
  return method === "trapezoidal"
    ? Float64Array.from({length: steps}, (_, n) => at(n + 1))
    : Float64Array.from({length: 2 * steps}, (_, k) => at((k >> 1) + (k % 2 === 0 ? 1 / 3 : 1)));
}
