/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the sizes the arrays were made with */
import {compiledStep, type CompiledStep} from "./compiled/compiled-step.ts";
import {inputsBefore, traceWidth, twinOf} from "./compiled/layout.ts";
import {edgeRation} from "./edge-ration.ts";
import {pastSteps} from "./guess.ts";
import {refineInto} from "./finer-model.ts";
import {matricesOver, type StepModel} from "./step-model.ts";

/** How many shorter steps make one. */
const finer = 8;

/** Makes steps of a sound's edges as several shorter ones. */
export type EdgeSteps = Readonly<{
  /** How far the loop may go from step `at`, up to `end`, before it asks again; it stops by itself where an edge begins. */
  until: (at: number, end: number) => number;
  /** Told how many steps have been made by others. */
  passed: (steps: number) => void;
  /** Makes step `at`, at which the loop has stopped. False if it must be made in another way. */
  make: (at: number) => boolean;
  /** Told that the memory has changed without a step. */
  forget: () => void;
  /** Goes on with the coefficients as they are now; nothing is made in shorter steps until they `rest`. */
  use: (rest: boolean) => void;
  useLaws: (model: StepModel) => void;
}>;

/**
 * For the steps of `model`, compiled with their correction; undefined where nothing bends the sound, or remembers it.
 *
 * An edge, as where a diode begins to conduct behind an op-amp at full gain, lasts a few steps, whose differences tell nothing of the
 * rule's own error. There the steps are made in shorter ones of a finer model, from a step before the first on, whose output is still
 * held back. They begin at the memory with its error taken out, so that nothing is left to correct; behind them that starts anew. No
 * error of more than a tenth of a volt is ever taken out, so that a circuit is pushed by no more than that.
 */
export function edgeSteps(coarse: CompiledStep, model: StepModel, smallestStep: number): EdgeSteps | undefined {
  const {states, outputs, laws} = model;
  const fine = laws.length > 0 && states > 0 ? compiledStep(model, smallestStep, true) : undefined;
  if (!fine) return undefined;
  const {layout, memory} = coarse;
  const {memory: finely} = fine;
  const matrices = matricesOver(model, finely.subarray(layout.coefficients, layout.state));
  finely[layout.bend] = Infinity;
  const {error, driven, last, change, changeBefore, changeFirst, gives, held} = twinOf(memory, layout, model);
  const part = (from: number, length: number) => memory.subarray(from, from + length);
  const state = part(layout.state, states);
  const points = part(layout.points, laws.length);
  const past = part(layout.past, pastSteps * laws.length);
  const ration = edgeRation();
  /** Whether the coefficients stay, the finer model is to be derived, and it can be; whether the last step was made by it. */
  let [rests, stale, solvable, within] = [true, true, true, false];
  /** Inputs that are known, the one at rest before the first step included. */
  let known = 1;

  const passed = (steps: number): void => {
    known = Math.min(inputsBefore, known + steps);
    ration.passed(steps);
  };
  const forget = (): void => {
    within = false;
    last.set(state);
    error.fill(0);
    for (const each of [change, changeBefore, changeFirst]) each.fill(NaN);
  };

  /** Makes step `at` with the finer model, and leaves what stands at its end with the correction. False if it is not solved. */
  const cross = (at: number, inputs: number): boolean => {
    const weights = between[Math.min(inputs, inputsBefore - 1) - 1]!;
    for (let j = 0; j < finer; j++) {
      let volts = 0;
      for (let back = 0; back < inputsBefore; back++) volts += weights[j]![back]! * memory[layout.input + at - back]!;
      finely[layout.input + j] = volts;
    }
    if (fine.run(0, finer) < finer) return false;
    const width = traceWidth(model);
    const end = layout.trace + (finer - 1) * width;
    for (let k = 0; k < states; k++) {
      const at = end + k;
      const now = finely[at]!;
      const before = finely[at - width]!;
      const second = finely[at - 2 * width]!;
      const third = finely[at - 3 * width]!;
      // The rule's memory is v + (h/2)·v', and a step changes it by h·v' at its end; three changes tell that without what rings from
      // step to step, which would come out `finer` times as large.
      changeBefore[k] = change[k]!;
      change[k] = finer * (0.75 * (now - before) + 0.5 * (before - second) - 0.25 * (second - third));
      last[k] = (now + before) / 2 + change[k]! / 2;
      // Across an edge the differences tell nothing.
      changeFirst[k] = NaN;
    }
    for (let k = 0; k < laws.length; k++) {
      gives[k] = finely[end + states + k]!;
      points[k] = finely[layout.points + k]!;
    }
    for (let k = 0; k < outputs; k++) held[k] = finely[layout.output + (finer - 1) * outputs + k]!;
    return true;
  };

  /** Goes back to before step `at` − 1 if there was one, puts the finer model there, and makes that step with it. */
  const enter = (at: number): boolean => {
    const first = Number.isNaN(change[0]!);
    for (let k = 0; k < states; k++) {
      if (!first) [last[k], change[k]] = [last[k]! - change[k]!, changeBefore[k]!];
      // Before the first steps nothing has changed, and there is no error.
      const errorBefore = orNone(driven[k]!);
      const changes = orNone(change[k]!);
      const volts = last[k]! - changes / 2 + (error[k]! + errorBefore) / 2;
      finely[layout.state + k] = volts + (changes + error[k]! - errorBefore) / 2 / finer;
    }
    error.fill(0);
    for (let k = 0; k < laws.length; k++) {
      const point = first ? points[k]! : past[pastSteps * k]!;
      finely[layout.points + k] = point;
      finely.fill(point, layout.past + pastSteps * k, layout.past + pastSteps * (k + 1));
    }
    return first || cross(at - 1, known - 1);
  };

  return {
    until(at, end) {
      if (!rests) return end;
      memory[layout.bend] = ration.volts();
      return Math.min(end, at + ration.steps());
    },
    passed(steps) {
      within = false;
      passed(steps);
    },
    make(at) {
      if (!rests || !ration.take(within ? 1 : 2)) return false;
      if (stale) solvable = refineInto(matrices, model, finer);
      stale = false;
      if (!solvable) return false;
      const entered = within || enter(at);
      for (let k = 0; k < outputs; k++) memory[layout.output + at * outputs + k] = held[k]!;
      for (let k = 0; k < laws.length; k++) {
        past.copyWithin(pastSteps * k + 1, pastSteps * k, pastSteps * (k + 1) - 1);
        past[pastSteps * k] = points[k]!;
      }
      within = entered && cross(at, known);
      if (!within) {
        forget();
        return false;
      }
      state.set(last);
      passed(1);
      return true;
    },
    forget,
    use(rest) {
      rests = rest;
      stale = true;
      within = false;
      memory[layout.bend] = Infinity;
    },
    useLaws: fine.useLaws,
  };
}

const orNone = (volts: number): number => (Number.isNaN(volts) ? 0 : volts);

/** Weights of the last inputs, the newest first, at the end of each shorter step: of the polynomials through two, three and four. */
const between = [1, 2, 3].map((order) =>
  Array.from({length: finer}, (_, j) =>
    Array.from({length: inputsBefore}, (_, own) => {
      const at = 1 - (j + 1) / finer;
      let weight = own > order ? 0 : 1;
      for (let other = 0; other <= order; other++) if (other !== own) weight *= (at - other) / (own - other);
      return weight;
    }),
  ),
);
