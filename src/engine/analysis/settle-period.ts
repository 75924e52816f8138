/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {blockStepper} from "../realtime/block-stepper.ts";
import {memoryAt} from "../realtime/derive-step.ts";
import type {NonlinearStepper} from "../realtime/nonlinear-stepper.ts";
import type {StepModel} from "../realtime/step-model.ts";
import {fixedPoint} from "../solve/fixed-point.ts";
import type {OperatingPoint} from "./operating-point.ts";
import {shoot, type CycleMap} from "./shooting.ts";

/** Volts of the signal at a step of a period; between two steps the number is broken. */
export type PeriodicSignal = (step: number) => number;

/** Plain periods that the search without derivatives may take: rails that are just touched can defeat it. */
const mostPeriods = 24;

/** Plain periods before each search with derivatives: from too far off, where rails and the battery's diode come and go, it loses its way. */
const periodsBefore = [0, 300, 1000] as const;
/** A second of them: the long periods of two tones are searched but once. */
const mostPlainSteps = 2_500_000;

/** A memory that a node without any way out never forgets comes back only as closely as rounding lets it: 160 dB is settled. */
const settledWithin = 1e-8;

export type SettledPeriod = Readonly<{
  /** As many numbers a step as the model has outputs; the first are those one step into the period. */
  outputs: Float64Array;
  /** Whether the memory comes back, as closely as was asked for or as rounding lets it. */
  settled: boolean;
  /** Steps that were not solved to the last digit. */
  unsolved: number;
}>;

/**
 * One period of a model that has settled under a signal of `steps` steps, from rest.
 *
 * A capacitor that a diode charges and nothing empties settles with the logarithm of time: it counts as settled where its drift
 * in a period is as small as was asked for, which is where the diode leaks no more than that.
 *
 * @param model stepped by Radau IIA
 * @param close by how much the memory may miss after a period, relative to its size
 *
 * Method: periods accelerated as in `fixedPoint`; where that fails, shooting with exact derivatives, and again after some hundreds
 * of plain periods.
 */
export function settlePeriod(
  model: StepModel,
  {stamps, x}: OperatingPoint,
  signal: PeriodicSignal,
  steps: number,
  close: number,
): SettledPeriod {
  const start = memoryAt(stamps, x);
  let stepper = blockStepper(model, start);
  const inputs = Float64Array.from({length: 2 * steps}, (_, k) => signal((k >> 1) + (k % 2 === 0 ? 1 / 3 : 1)));
  const outputs = new Float64Array(model.outputs * steps);
  const volts = inputs.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
  const period = (from: Float64Array, into: Float64Array): number => {
    stepper.single.state.set(from);
    const unsolved = stepper.run(inputs, outputs);
    into.set(stepper.single.state);
    return unsolved;
  };
  const found = Float64Array.from(start);
  if (fixedPoint(found, period, close, mostPeriods, volts) && period(found, found) === 0)
    return {outputs, settled: true, unsolved: 0};
  const cycle: CycleMap = {
    run: (from, end, into) => withSensitivity(stepper.single, inputs, from, end, into),
    rounding: (size, into) => roundingOf(model, steps, volts, size, into),
    stores: Float64Array.from(stamps.stores, ({value}) => value),
  };
  const plain = Float64Array.from(start);
  let [made, settled] = [0, false];
  for (const periods of periodsBefore) {
    if (periods * steps > mostPlainSteps) break;
    stepper = blockStepper(model, start);
    for (; made < periods; made++) period(plain, plain);
    found.set(plain);
    settled = shoot(found, cycle, close, Math.max(close, settledWithin));
    if (settled) break;
  }
  return {outputs, settled, unsolved: period(found, found)};
}

/** What a period leaves of each entry by rounding alone: at every step the last digit of what it is summed from. */
function roundingOf(
  {A, B, H, states, stages}: StepModel,
  steps: number,
  volts: number,
  size: Float64Array,
  into: Float64Array,
): void {
  for (let i = 0; i < states; i++) {
    let terms = Math.abs(H[i]!);
    for (let k = 0; k < states; k++) terms += Math.abs(A[i * states + k]!) * size[k]!;
    for (let k = 0; k < stages; k++) terms += Math.abs(B[i * stages + k]!) * volts;
    into[i] = Number.EPSILON * steps * terms;
  }
}

/** One period step by step, and the product of the steps' sensitivities. False from the first step on that is not solved. */
function withSensitivity(
  stepper: NonlinearStepper,
  inputs: Float64Array,
  from: Float64Array,
  end: Float64Array,
  into: Float64Array,
): boolean {
  const states = from.length;
  const one = new Float64Array(states * states);
  let product = Float64Array.from(one, (_, c) => (c % (states + 1) === 0 ? 1 : 0));
  let next = new Float64Array(one.length);
  stepper.state.set(from);
  for (let n = 0; n < inputs.length; n += 2) {
    if (!stepper.step(inputs[n + 1] ?? 0, inputs[n])) return false;
    stepper.sensitivity(one);
    multiply(one, product, next, states);
    [product, next] = [next, product];
  }
  end.set(stepper.state);
  into.set(product);
  return true;
}

/** into = a·b, all square and row-major. */
function multiply(a: Float64Array, b: Float64Array, into: Float64Array, size: number): void {
  into.fill(0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const factor = a[i * size + j]!;
      for (let k = 0; k < size; k++) into[i * size + k]! += factor * b[j * size + k]!;
    }
  }
}
