import {compiledStep} from "./compiled/compiled-step.ts";
import {blockLength, inputsBefore, traceWidth, twinOf} from "./compiled/layout.ts";
import {edgeSteps} from "./edge-steps.ts";
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
   * steps before must be known. It costs two thirds of a step more and makes of its error's square its fourth power; edges of a few
   * steps, where no error can be told, are made in shorter ones.
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
  const input = part(layout.input - inputsBefore, inputsBefore + blockLength * stages);
  const output = part(layout.output, blockLength * width);
  const trace = part(layout.trace, correct ? blockLength * traceWidth(first) : 0);
  const gives = new Float64Array(first.laws.length);
  const error = part(layout.twin, correct ? first.states : 0);
  if (correct) {
    // Changes of the memory are told from where it starts; those before are not known, and until three are nothing is corrected.
    const {last, change, changeBefore, changeFirst} = twinOf(memory, layout, first);
    last.set(single.state);
    for (const each of [change, changeBefore, changeFirst]) each.fill(NaN);
    // Where the laws stand at rest is what the first steps are guessed from: they would be taken for edges otherwise.
    if (single.step(0)) single.points.forEach((point, k) => part(layout.past + pastSteps * k, pastSteps).fill(point));
    single.state.set(last);
  }
  memory[layout.bend] = Infinity;
  const edges = correct && edgeSteps(compiled, live, smallestSteps[first.method]);
  let laws = first.laws;
  /** Whether the coefficients have changed since the general stepper took them up, which it need not do for every move. */
  let stale = false;
  const takeUp = (): void => {
    single.use({...live, laws});
    stale = false;
  };

  /** What a step without a solution leaves standing. */
  const lastOutput = new Float64Array(width);

  /** Makes step `at` of a block in the general way; false if it was not solved. */
  const general = (at: number): boolean => {
    if (stale) takeUp();
    const end = inputsBefore + (at + 1) * stages;
    if (!single.step(input[end - 1] ?? 0, input[end - stages])) {
      edges?.forget();
      return false;
    }
    output.set(single.output, at * width);
    if (correct) {
      single.gives(gives);
      trace.set(single.state, at * traceWidth(first));
      trace.set(gives, at * traceWidth(first) + first.states);
      correct(at, at + 1);
    }
    edges?.passed(1);
    return true;
  };
  /** Makes the `count` steps of a block. */
  const block = (count: number): number => {
    let unsolved = 0;
    for (let at = 0; at < count;) {
      const end = edges?.until(at, count) ?? count;
      const made = runCompiled(at, end);
      if (made > at) {
        correct?.(at, made);
        edges?.passed(made - at);
      }
      at = made;
      if (made === end) continue;
      if (!edges?.make(at) && !general(at)) {
        unsolved++;
        if (at > 0) copy(output, (at - 1) * width, width, lastOutput, 0);
        output.set(lastOutput, at * width);
      }
      at++;
    }
    copy(output, (count - 1) * width, width, lastOutput, 0);
    return unsolved;
  };

  const run = (inputs: Float64Array, outputs: Float64Array, begin = 0, end = inputs.length / stages): number => {
    earn(purse, end - begin, first);
    let unsolved = 0;
    for (let done = begin; done < end;) {
      const count = Math.min(blockLength, end - done);
      copy(inputs, done * stages, count * stages, input, inputsBefore);
      unsolved += block(count);
      copy(output, 0, count * width, outputs, done * width);
      if (edges) for (let k = 0; k < inputsBefore; k++) input[k] = input[k + count] ?? 0;
      // In silence it would die away without end, into numbers so small that a processor is slow with them.
      for (let k = 0; k < error.length; k++) if (Math.abs(error[k] ?? 0) < 1e-30) error[k] = 0;
      done += count;
    }
    return unsolved;
  };
  // Laws do not blend: another diode is there from the first step towards its model on.
  const useLaws = (model: StepModel): void => {
    stale = true;
    if (model.laws === laws) return;
    laws = model.laws;
    compiled.useLaws(model);
    edges?.useLaws(model);
  };
  const use = (model: StepModel): void => {
    if (!sameShape(live, model)) throw new RangeError("a stepper can go on only with a model of its own shape");
    live.coefficients.set(model.coefficients);
    useLaws(model);
    edges?.use(true);
  };
  const blendInto = blender(live);
  const blend = (from: StepModel, to: StepModel, fraction: number): void => {
    blendInto(from, to, fraction);
    useLaws(to);
    edges?.use(fraction >= 1);
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
