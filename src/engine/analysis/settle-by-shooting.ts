/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {NonlinearStepper} from "../realtime/nonlinear-stepper.ts";
import {factorReal, solveReal} from "../solve/real-lu.ts";

/** Volts of the signal at a step of a period; between two steps the number is broken. */
export type PeriodicSignal = (step: number) => number;

const shots = 16;
/** Of each memory's largest value: what Newton's last step and rounding leave of a period of a million steps. */
const close = 1e-10;

/**
 * Brings a stepper's memory to where it repeats after `steps` steps of a periodic signal, in place.
 *
 * @param record called after every step of every period tried, 1 to `steps`: what it kept of the last one is the settled period
 * @returns whether it repeats to 1e-10 of each memory's size; if not, the nearest memory met is left behind
 *
 * Method: shooting, Aprille and Trick, Proc. IEEE 60 (1972) [from memory]. The sensitivity Φ of one period costs more than the
 * period, and the slow memories, which need it, are nearly linear: it is kept for the next shots while each misses by a fifth or
 * less of the one before, and found anew otherwise.
 */
export function settleByShooting(
  stepper: NonlinearStepper,
  states: number,
  steps: number,
  signal: PeriodicSignal,
  record: (step: number) => void = () => undefined,
): boolean {
  const [before, miss, change, size, best] = [0, 0, 0, 0, 0].map(() => new Float64Array(states)) as Five;
  const [one, factors] = [new Float64Array(states * states), new Float64Array(states * states)];
  const order = new Int32Array(states);
  let [product, next] = [new Float64Array(states * states), new Float64Array(states * states)];
  let [known, usable, previous, least] = [false, false, Infinity, Infinity];
  for (let shot = 0; shot < shots; shot++) {
    before.set(stepper.state);
    if (!known) identity(product, states);
    size.fill(1e-30);
    for (let n = 1; n <= steps; n++) {
      stepper.step(signal(n), signal(n - 2 / 3));
      record(n);
      for (let i = 0; i < states; i++) size[i] = Math.max(size[i]!, Math.abs(stepper.state[i]!));
      if (known) continue;
      stepper.sensitivity(one);
      multiply(one, product, next, states);
      [product, next] = [next, product];
    }
    let missed = 0;
    for (let i = 0; i < states; i++) {
      miss[i] = stepper.state[i]! - before[i]!;
      missed = Math.max(missed, Math.abs(miss[i]!) / size[i]!);
    }
    if (missed < least) {
      least = missed;
      best.set(stepper.state);
    }
    if (missed <= close) return true;
    if (missed > 10 * least) {
      // A shot that went astray: from the nearest memory so far one plain period, its sensitivity with it.
      stepper.state.set(best);
      [known, previous] = [false, Infinity];
      continue;
    }
    if (!known) {
      for (let c = 0; c < factors.length; c++) factors[c] = (c % (states + 1) === 0 ? 1 : 0) - product[c]!;
      usable = factorReal(states, factors, order) < 0;
    }
    known = missed <= previous / 5;
    previous = missed;
    if (!usable) continue;
    // (1 − Φ)·change = miss
    solveReal(states, factors, order, miss, change);
    if (change.every(Number.isFinite)) for (let i = 0; i < states; i++) stepper.state[i] = before[i]! + change[i]!;
  }
  stepper.state.set(best);
  return false;
}

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

function identity(into: Float64Array, size: number): void {
  into.fill(0);
  for (let i = 0; i < size; i++) into[i * size + i] = 1;
}

/** into = a·b, all square and row-major. */
function multiply(a: Float64Array, b: Float64Array, into: Float64Array, size: number): void {
  into.fill(0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const factor = a[i * size + j]!;
      if (factor === 0) continue;
      for (let k = 0; k < size; k++) into[i * size + k]! += factor * b[j * size + k]!;
    }
  }
}
