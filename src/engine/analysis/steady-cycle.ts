import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {nonlinearStepper} from "../realtime/nonlinear-stepper.ts";
import {stepModel} from "../realtime/step-model.ts";
import {factorReal, solveReal} from "../solve/real-lu.ts";
import {operatingPoint} from "./operating-point.ts";

/** One whole cycle of a circuit that has settled under a sine; every array has equally spaced points, the first at t = 0. */
export type SteadyCycle = Readonly<{
  frequencyHz: number;
  peakVolts: number;
  seconds: Float64Array;
  /** Volts of the signal source. */
  input: Float64Array;
  at: ReadonlyMap<NodeName, Float64Array>;
}>;

const shots = 12;
const close = 1e-11; // of the largest memory value: what double precision leaves of a cycle of some thousand steps

/**
 * The periodic steady state under peakVolts·sin(2π·frequencyHz·t): volts of each probe over one cycle.
 *
 * `stepsPerPoint`: steps between two points, 8 by default; fewer are quicker and coarser, as the error falls with the cube.
 *
 * @throws {RangeError} if frequency or points are not positive, or the level is no finite number
 * @throws {CircuitError} if the circuit has no operating point
 *
 * Method: shooting, Aprille and Trick, Proc. IEEE 60 (1972) [from memory]: Newton's method on the memory after one cycle with
 * its exact sensitivity; where a shot misses by more than the one before, a plain cycle is run instead. Radau IIA steps.
 */
export function steadyCycle(
  circuit: Circuit,
  {frequencyHz, peakVolts}: Readonly<{frequencyHz: number; peakVolts: number}>,
  probes: readonly NodeName[],
  points = 256,
  stepsPerPoint = 8,
): SteadyCycle {
  if (!(frequencyHz > 0 && frequencyHz < Infinity && Number.isFinite(peakVolts))) {
    throw new RangeError(`a cycle needs a positive frequency and a level, got ${frequencyHz} Hz and ${peakVolts} V`);
  }
  if (!(Number.isInteger(points) && points >= 1 && Number.isInteger(stepsPerPoint) && stepsPerPoint >= 1)) {
    throw new RangeError(`points and steps must be whole numbers from 1 up, got ${points} and ${stepsPerPoint}`);
  }
  for (const probe of probes) requireNode(circuit, probe);
  const {stamps, x} = operatingPoint(circuit);
  const unknowns = probes.map((probe) => stamps.unknownOf.get(probe) ?? -1);
  const steps = points * stepsPerPoint;
  const model = stepModel(stamps, unknowns, steps * frequencyHz, "Radau IIA");
  const stepper = nonlinearStepper(model, x);
  const {states} = model;
  const volts = (step: number) => peakVolts * Math.sin((2 * Math.PI * step) / steps);

  const [before, miss, change, best] = [0, 0, 0, 0].map(() => new Float64Array(states)) as [V, V, V, V];
  const [one, spare] = [new Float64Array(states * states), new Float64Array(states * states)];
  let product = new Float64Array(states * states);
  const order = new Int32Array(states);
  let next = spare;
  let bestMiss = Infinity;
  for (let shot = 0; shot < shots && states > 0; shot++) {
    before.set(stepper.state);
    product.fill(0);
    for (let i = 0; i < states; i++) product[i * states + i] = 1;
    for (let n = 1; n <= steps; n++) {
      stepper.step(volts(n), volts(n - 2 / 3));
      stepper.sensitivity(one);
      multiply(one, product, next, states);
      [product, next] = [next, product];
    }
    let [missed, size] = [0, 1e-12];
    for (let i = 0; i < states; i++) {
      miss[i] = (stepper.state[i] as number) - (before[i] as number);
      missed = Math.max(missed, Math.abs(miss[i] as number));
      size = Math.max(size, Math.abs(before[i] as number));
    }
    if (missed < bestMiss) {
      bestMiss = missed;
      best.set(stepper.state);
    } else if (missed > 10 * bestMiss) {
      // A shot that went astray: go on from the nearest memory so far, one plain cycle later.
      stepper.state.set(best);
      bestMiss = Infinity;
      continue;
    }
    if (missed <= close * size) break;
    // (1 − Φ)·change = miss
    for (let c = 0; c < product.length; c++) product[c] = (c % (states + 1) === 0 ? 1 : 0) - (product[c] as number);
    if (factorReal(states, product, order) >= 0) continue;
    solveReal(states, product, order, miss, change);
    if (change.every(Number.isFinite))
      for (let i = 0; i < states; i++) stepper.state[i] = (before[i] as number) + (change[i] as number);
  }

  const at = probes.map(() => new Float64Array(points));
  for (let n = 1; n <= steps; n++) {
    stepper.step(volts(n), volts(n - 2 / 3));
    if (n % stepsPerPoint === 0) {
      at.forEach((samples, k) => (samples[(n / stepsPerPoint) % points] = stepper.output[k] ?? 0));
    }
  }
  return {
    frequencyHz,
    peakVolts,
    seconds: Float64Array.from({length: points}, (_, n) => n / (points * frequencyHz)),
    input: Float64Array.from({length: points}, (_, n) => volts(n * stepsPerPoint)),
    at: new Map(probes.map((probe, k) => [probe, at[k] ?? new Float64Array(points)])),
  };
}

type V = Float64Array<ArrayBuffer>;

/** into = a·b, all square and row-major. */
function multiply(a: Float64Array, b: Float64Array, into: Float64Array, size: number): void {
  into.fill(0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const factor = a[i * size + j] as number;
      for (let k = 0; k < size; k++)
        into[i * size + k] = (into[i * size + k] as number) + factor * (b[j * size + k] as number);
    }
  }
}
