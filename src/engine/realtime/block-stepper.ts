import {compiledStep} from "./compiled/compiled-step.ts";
import {blockLength} from "./compiled/layout.ts";
import {pastSteps} from "./guess.ts";
import {liveLooks, type Purse} from "./hard-step.ts";
import {nonlinearStepper, smallestSteps, type NonlinearStepper} from "./nonlinear-stepper.ts";
import {knownLength} from "./step-rows.ts";
import {blender, matricesOver, sameShape, type StepModel} from "./step-model.ts";

/** A circuit that steps through time in blocks. */
export type BlockStepper = Readonly<{
  /** Whether the steps run as machine code; if not, the general stepper makes them. */
  compiled: boolean;
  /** How many steps late its outputs come: one if they are corrected. */
  late: number;
  /**
   * Steps through `inputs`, `stages` numbers a step, and writes `outputs` numbers a step; of both the steps from `begin` up to `end`
   * if these are given.
   *
   * @returns how many steps found no solution: the output was held over them
   */
  run: (inputs: Float64Array, outputs: Float64Array, begin?: number, end?: number) => number;
  /** Goes on with other coefficients and the same memory. @throws {RangeError} if the model has another shape */
  use: (model: StepModel) => void;
  /** Goes on with coefficients between two models. @throws {RangeError} if the models have another shape */
  blend: (from: StepModel, to: StepModel, fraction: number) => void;
  /** The model as it stands now, between two others perhaps. */
  present: () => StepModel;
  /** The memory between blocks, and single steps with their sensitivity. */
  single: NonlinearStepper;
}>;

export type BlockOptions = Readonly<{
  /**
   * Whether to take the trapezoidal rule's own error out of the outputs, where the steps run as machine code: from rest on, for the
   * steps before must be known. It costs two thirds of a step more and makes of its error's square its fourth power.
   */
  corrects?: boolean;
  /** Whether sound waits for the steps: then what is hard to find is looked for no longer than `liveLooks` allows. False by default. */
  live?: boolean;
}>;

/** Steps a model from a memory `state`, or from nothing charged, as fast as the machine can. */
export function blockStepper(
  first: StepModel,
  state?: Float64Array,
  {corrects = false, live: asLive = false}: BlockOptions = {},
): BlockStepper {
  const purse = asLive ? {looks: liveLooks.most} : undefined;
  const compiled = compiledStep(first, smallestSteps[first.method], corrects && first.method === "trapezoidal");
  if (!compiled) return generalBlocks(first, state, purse);
  const {layout, memory, run: runCompiled, correct} = compiled;
  const part = (from: number, length: number) => memory.subarray(from, from + length);
  const live = {...first, ...matricesOver(first, part(layout.coefficients, first.coefficients.length))};
  live.coefficients.set(first.coefficients);
  const steps = {
    known: part(layout.state, knownLength(first)),
    points: part(layout.points, first.laws.length),
    past: part(layout.past, pastSteps * first.laws.length),
  };
  const single = nonlinearStepper(live, state, steps, undefined, purse);
  const {stages, outputs: width} = first;
  const input = part(layout.input, blockLength * stages);
  const output = part(layout.output, blockLength * width);
  const trace = part(layout.trace, correct ? first.states : 0);
  const error = part(layout.twin, correct ? first.states : 0);
  const gives = part(layout.trace + first.states, correct ? first.laws.length : 0);
  if (correct) {
    // Changes of the memory are told from where it starts; those before are not known, and until three are nothing is corrected.
    part(layout.twin + first.states, first.states).set(single.state);
    part(layout.twin + 2 * first.states, 3 * first.states).fill(NaN);
  }
  let laws = first.laws;
  /** Whether the coefficients have changed since the general stepper took them up, which it need not do for every move. */
  let stale = false;
  const takeUp = (): void => {
    single.use({...live, laws});
    stale = false;
  };

  /** What a step without a solution leaves standing. */
  const lastOutput = new Float64Array(width);

  const run = (inputs: Float64Array, outputs: Float64Array, begin = 0, end = inputs.length / stages): number => {
    earn(purse, end - begin, first);
    let unsolved = 0;
    for (let done = begin; done < end;) {
      const count = Math.min(blockLength, end - done);
      copy(inputs, done * stages, count * stages, input, 0);
      const made = runCompiled(count);
      if (correct) {
        correct(made);
        // In silence it would die away without end, into numbers so small that a processor is slow with them.
        for (let k = 0; k < error.length; k++) if (Math.abs(error[k] ?? 0) < 1e-30) error[k] = 0;
      }
      copy(output, 0, made * width, outputs, done * width);
      done += made;
      if (made === count) continue;
      if (stale) takeUp();
      if (single.step(inputs[done * stages + stages - 1] ?? 0, inputs[done * stages])) {
        output.set(single.output);
        if (correct) {
          trace.set(single.state);
          single.gives(gives);
          correct(1);
        }
        lastOutput.set(output.subarray(0, width));
      } else {
        unsolved++;
        if (done > begin) lastOutput.set(outputs.subarray((done - 1) * width, done * width));
      }
      outputs.set(lastOutput, done * width);
      done++;
    }
    if (end > begin) copy(outputs, (end - 1) * width, width, lastOutput, 0);
    return unsolved;
  };
  // Laws do not blend: another diode is there from the first step towards its model on.
  const useLaws = (model: StepModel): void => {
    stale = true;
    if (model.laws === laws) return;
    laws = model.laws;
    compiled.useLaws(model);
  };
  const use = (model: StepModel): void => {
    if (!sameShape(live, model)) throw new RangeError("a stepper can go on only with a model of its own shape");
    live.coefficients.set(model.coefficients);
    useLaws(model);
  };
  const blendInto = blender(live);
  const blend = (from: StepModel, to: StepModel, fraction: number): void => {
    blendInto(from, to, fraction);
    useLaws(to);
  };
  const present = (): StepModel => ({...live, laws, ...matricesOver(first, Float64Array.from(live.coefficients))});
  return {
    compiled: true,
    late: correct ? 1 : 0,
    run,
    use,
    blend,
    present,
    get single() {
      if (stale) takeUp();
      return single;
    },
  };
}

/** While a control moves, a run is a few steps: a view of so few numbers would cost more than to copy them one by one. */
const worthAView = 64;

function copy(source: Float64Array, from: number, count: number, into: Float64Array, to: number): void {
  if (count > worthAView) into.set(source.subarray(from, from + count), to);
  else for (let k = 0; k < count; k++) into[to + k] = source[from + k] ?? 0;
}

/** Puts into a purse what may be spent in the time of so many steps. */
function earn(purse: Purse | undefined, steps: number, {sampleRateHz}: StepModel): void {
  if (purse) purse.looks = Math.min(liveLooks.most, purse.looks + (liveLooks.perSecond * steps) / sampleRateHz);
}

function generalBlocks(first: StepModel, state?: Float64Array, purse?: Purse): BlockStepper {
  const live = {...first, ...matricesOver(first, Float64Array.from(first.coefficients))};
  const single = nonlinearStepper(live, state, undefined, undefined, purse);
  const blendInto = blender(live);
  const {stages, outputs: width} = first;
  let laws = first.laws;
  const goOn = (others: StepModel["laws"]): void => {
    laws = others;
    single.use({...live, laws});
  };
  return {
    compiled: false,
    late: 0,
    run(inputs, outputs, begin = 0, end = inputs.length / stages) {
      earn(purse, end - begin, first);
      let unsolved = 0;
      for (let n = begin; n < end; n++) {
        if (!single.step(inputs[n * stages + stages - 1] ?? 0, inputs[n * stages])) unsolved++;
        for (let k = 0; k < width; k++) outputs[n * width + k] = single.output[k] ?? 0;
      }
      return unsolved;
    },
    use(model) {
      if (!sameShape(live, model)) throw new RangeError("a stepper can go on only with a model of its own shape");
      live.coefficients.set(model.coefficients);
      goOn(model.laws);
    },
    blend(from, to, fraction) {
      blendInto(from, to, fraction);
      goOn(to.laws);
    },
    present: () => ({...live, laws, ...matricesOver(first, Float64Array.from(live.coefficients))}),
    single,
  };
}
