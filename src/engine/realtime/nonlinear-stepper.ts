/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
// In use:
//   const model = stepModel(stamps, [unknown, …], sampleRateHz, "Radau IIA");
//   const stepper = nonlinearStepper(model, memoryAt(…));   from rest; from nothing charged without it
//   stepper.step(end, third);                         one step, in place, nothing allocated
//   stepper.output[0], stepper.state                  volts at the end of the step; the memory, free to be overwritten
//   stepper.sensitivity(into)                         ds'/ds of the step just made, states × states, row-major
//   stepper.use(another)                              goes on with other coefficients and the same memory
import {evaluate, type LawPoint} from "../analysis/nonlinearities.ts";
import {solveInPlace} from "../solve/solve-in-place.ts";
import {carefulNewton} from "./careful-newton.ts";
import {guessWeights, pastSteps} from "./guess.ts";
import {hardStep, liveLooks, type Purse} from "./hard-step.ts";
import {lawAtWork, move, read, type LawAtWork} from "./law-at-work.ts";
import {manyNewton, settleMany} from "./many-newton.ts";
import {quickNewton, settleQuickly, type QuickNewton} from "./quick-newton.ts";
import {sameShape, type StepModel} from "./step-model.ts";
import {addLaws, fillRows, findLinear, knownLength, stepRows} from "./step-rows.ts";

/** A circuit that steps through time. */
export type NonlinearStepper = Readonly<{
  state: Float64Array;
  /** The outputs the model was made for, at the end of the last step. */
  output: Float64Array;
  /** Where each law stands, a diode at its junction: only a first guess for the next step. */
  points: Float64Array;
  /**
   * One step. `end`: the signal at its end; `third`: a third of the way, for Radau IIA alone.
   *
   * An op-amp whose output carries its own supply can meet a step that has no solution.
   *
   * @returns false if none was found: the output then stays as it was, and the memory goes a tenth of the way back to where it began
   */
  step: (end: number, third?: number) => boolean;
  sensitivity: (into: Float64Array) => void;
  /** Writes what a volt more at each law's terminals would add to what it feeds, law by law, weights and signs left out. */
  gives: (into: Float64Array) => void;
  /** Takes over a model's coefficients as they are now. @throws {RangeError} if it has another shape */
  use: (model: StepModel) => void;
}>;

/**
 * Last Newton step in volts. The laws bend over 25 mV and more, so that what is left of a current is half the square of the step
 * over that, as a share: under 1e-9 for live sound, which Kirchhoff's law at every node then holds to, 1e-11 for curves and figures.
 */
export const smallestSteps = {trapezoidal: 1e-6, "Radau IIA": 1e-7} as const;

/** Part of the way back to where it began that the memory goes in a step without a solution. */
const backPerStep = 0.1;

/**
 * Steps a circuit whose laws are solved by Newton's method, first in the fewest operations (`quick-newton.ts`, or `many-newton.ts`),
 * where that does not settle with a search along each step (`careful-newton.ts`), and where that fails over voltage and current (`hard-step.ts`).
 *
 * Method: Yeh, Abel and Smith's nonlinear state space (K-method), Proc. DAFx-07 [from memory].
 */
export function nonlinearStepper(
  first: StepModel,
  start?: Float64Array,
  memory: StepperMemory = memoryFor(first),
  smallestStep: number = smallestSteps[first.method],
  purse: Purse = {looks: Infinity},
): NonlinearStepper {
  let model = first;
  const {states, stages, outputs, ports, columns} = first;
  const m = first.laws.length;
  const {known, points: p} = memory;
  const state = known.subarray(0, states);
  state.fill(0);
  if (start) state.set(start);
  const output = new Float64Array(outputs);
  const rows = stepRows(first, known);
  const {found} = rows;
  const drives = found.subarray(0, ports);
  const jacobian = new Float64Array(columns * columns);
  const inverse = new Float64Array(columns * states);
  let laws: readonly LawAtWork[] = [];
  const sums = new Float64Array(Math.max(3, columns));
  let quick: QuickNewton | undefined;
  let many = manyNewton(laws, columns, sums, smallestStep);
  let careful = carefulNewton(laws, columns, sums, purse);

  const fill = (): void => {
    fillRows(rows, model);
    const {K} = model;
    for (let k = 0; k < m; k++) {
      const law = laws[k]!;
      for (let j = 0, at = law.port * columns; j < columns; j++) law.pulls[j] = law.sign * K[at++]!;
      [law.pull0, law.pull1, law.pull2] = [law.pulls[0]!, law.pulls[1]!, law.pulls[2]!];
    }
  };
  const put = (): void => {
    laws = model.laws.map((each) => lawAtWork(each, columns));
    quick = columns <= 3 ? quickNewton(laws, sums, smallestStep) : undefined;
    many = manyNewton(laws, columns, sums, smallestStep);
    careful = carefulNewton(laws, columns, sums, purse);
  };
  put();
  fill();

  const putPoints = (at: Float64Array): void => {
    for (let k = 0; k < m; k++) laws[k]!.point = at[k]!;
  };

  /** Steps in a row that found no solution. */
  let held = 0;
  /** The rare step that Newton's method over voltages does not solve. */
  const solveHard = (): boolean => {
    // Where there is none, sound must not wait for it to be looked for at every step: after 1, 2, 4, 8 … steps, and nearby, will do.
    if ((held & (held - 1)) !== 0 || purse.looks < liveLooks.least) return false;
    putPoints(p);
    const volts = Float64Array.from(model.laws, (_, k) => outside(model, laws, k));
    const good = hardStep(model, drives, volts, held === 0 ? 12 : 0, purse);
    const reached = volts.map((each, k) => inside(model, laws, k, each));
    putPoints(reached);
    // A last round takes out what is left, where rounding lets it.
    if (good && careful.settle(smallestStep)) return true;
    putPoints(reached);
    careful.look();
    return good;
  };
  const solve = (): boolean => {
    guess(laws, found, memory);
    let good = quick ? settleQuickly(quick) : settleMany(many);
    if (!good) {
      putPoints(p);
      good = purse.looks > 0 && (careful.settle(smallestStep) || solveHard());
    }
    if (good) for (let k = 0; k < m; k++) p[k] = laws[k]!.point;
    return good;
  };

  const step = (end: number, third = end): boolean => {
    if (stages > 1) known[states] = third;
    known[states + stages - 1] = end;
    findLinear(rows);
    const good = m === 0 || solve();
    if (good) {
      addLaws(rows, sums, state, output);
      held = 0;
      return true;
    }
    // No input may meet a solution from this memory: it goes back to where it began, from where there are some.
    held++;
    for (let i = 0; i < states; i++) state[i]! += backPerStep * ((start?.[i] ?? 0) - state[i]!);
    return false;
  };

  /** A + C·∂ψ/∂s, by the implicit function theorem: (1 − Σ give_k·pull_k)·∂ψ/∂s = Σ give_k·D_k. */
  const sensitivity = (into: Float64Array): void => {
    const {A, C, D} = model;
    into.set(A);
    if (m === 0) return;
    careful.look();
    careful.derive(jacobian);
    inverse.fill(0);
    for (const {give, sign, port, column} of laws)
      for (let j = 0, c = column * states, d = port * states; j < states; j++) inverse[c++]! += give * sign * D[d++]!;
    if (!solveInPlace(columns, jacobian, inverse, states)) return;
    for (let i = 0; i < states; i++) {
      for (let j = 0; j < columns; j++) {
        const factor = C[i * columns + j]!;
        for (let k = 0; k < states; k++) into[i * states + k]! += factor * inverse[j * states + k]!;
      }
    }
  };

  const gives = (into: Float64Array): void => {
    careful.look();
    laws.forEach(({give, weight}, k) => (into[k] = weight * give));
  };

  const use = (other: StepModel): void => {
    if (!sameShape(model, other)) throw new RangeError("a stepper can go on only with a model of its own shape");
    const otherLaws = model.laws !== other.laws;
    model = other;
    if (otherLaws) put();
    fill();
  };
  return {state, output, points: p, step, sensitivity, gives, use};
}

/** Puts every law where the cubic through its last four points leads, and under this step's drive. */
function guess(laws: readonly LawAtWork[], drives: Float64Array, {points, past}: StepperMemory): void {
  for (let k = 0, at = 0; k < laws.length; k++, at += pastSteps) {
    const law = laws[k]!;
    const now = points[k]!;
    const one = past[at]!;
    const two = past[at + 1]!;
    const three = past[at + 2]!;
    past[at] = now;
    past[at + 1] = one;
    past[at + 2] = two;
    law.drive = law.sign * drives[law.port]!;
    law.asleep = now < law.goneBelow && law.perVolt === 0;
    if (law.asleep) law.value = -law.base;
    else
      move(law, now, guessWeights[0] * now + guessWeights[1] * one + guessWeights[2] * two + guessWeights[3] * three);
  }
}

/** Volts that a law of the model is read at, where its junction stands: its own resistance has them apart if the law holds it. */
export function outside(model: Pick<StepModel, "laws">, laws: readonly LawAtWork[], k: number): number {
  const {point, ohms} = laws[k]!;
  const held = ohms - model.laws[k]!.drop;
  if (held === 0) return point;
  read(laws[k]!);
  return point + held * laws[k]!.value;
}

/** The other way. */
export function inside(model: Pick<StepModel, "laws">, laws: readonly LawAtWork[], k: number, volts: number): number {
  const {law, drop} = model.laws[k]!;
  const held = laws[k]!.ohms - drop;
  if (held === 0) return volts;
  const current: LawPoint = {value: 0, slope: 0};
  evaluate(law, volts, current);
  return volts - held * current.value;
}

/** What a stepper carries from step to step: memory, with room for inputs behind it (`knownLength`), where the laws stand, and law by law where each stood in the steps before. */
export type StepperMemory = Readonly<Record<"known" | "points" | "past", Float64Array>>;

function memoryFor(model: StepModel): StepperMemory {
  const laws = model.laws.length;
  const [known, points, past] = [knownLength(model), laws, pastSteps * laws];
  return {known: new Float64Array(known), points: new Float64Array(points), past: new Float64Array(past)};
}
