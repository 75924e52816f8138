import {blockStepper, type BlockOptions} from "./block-stepper.ts";
import {oversampler} from "./oversample.ts";
import type {StepModel} from "./step-model.ts";

/** A circuit that a stream of sound runs through. */
export type CircuitProcessor = Readonly<{
  /** How late the sound comes out, in samples. */
  latency: number;
  /** Numbers that a block may have at most. */
  longest: number;
  /**
   * Runs up to `longest` volts of the signal source through the circuit into `output`, the volts of the model's first output.
   *
   * @returns how many inner steps found no solution: the output was held over them
   */
  process: (input: Float64Array, output: Float64Array, count: number) => number;
  /**
   * Goes over to another model of the same circuit within the next `samples`, evenly from sample to sample: what noise such small
   * steps make lies beyond what the stream's rate can hold. @throws {RangeError} if the model has another shape
   */
  moveTo: (model: StepModel, samples: number) => void;
}>;

/**
 * A circuit as a stream: up to `factor` times the rate, a step a sample there, and down again. It starts from `state`, at rest.
 *
 * @param model made at `factor` times the stream's rate; trapezoidal
 * @param options.corrects whether the rule's own error is taken out of the sound, as `blockStepper` does it
 * @throws {RangeError} if the factor is not 1, 2, 4, 8, 16, 32 or 64, or the model wants more than one input a step
 */
export function circuitProcessor(
  model: StepModel,
  state: Float64Array,
  factor: number,
  longest = 128,
  options: BlockOptions = {},
): CircuitProcessor {
  if (model.stages !== 1) throw new RangeError("a stream is stepped by the trapezoidal rule");
  const stepper = blockStepper(model, state, options);
  const {late} = stepper;
  const {latency, up, down} = oversampler(factor, longest, late);
  const width = model.outputs;
  const stepped = new Float64Array((longest * factor + 1) * width);
  const inner = new Float64Array(longest * factor);
  // The output's deviation from rest is filtered, not the rest itself: before the sound lies rest, not 0 V.
  stepper.run(new Float64Array(1 + late), stepped);
  const atRest = stepped[late * width] ?? 0;
  let from = model;
  let to = model;
  let done = 1;
  let perSample = 1;

  /** Steps through the raised block; while a control moves, the circuit is another one at every sample. */
  const step = (raised: Float64Array, count: number): number => {
    let unsolved = 0;
    let start = 0;
    for (; start < count && done < 1; start++) {
      done = Math.min(1, done + perSample);
      stepper.blend(from, to, done);
      unsolved += stepper.run(raised, stepped, start * factor, (start + 1) * factor);
    }
    if (start === count) return unsolved;
    return unsolved + stepper.run(raised, stepped, start * factor, count * factor);
  };
  return {
    latency,
    longest,
    process(input, output, count) {
      const unsolved = step(up(input, count), count);
      for (let n = 0; n < count * factor; n++) inner[n] = (stepped[n * width] ?? 0) - atRest;
      const lowered = down(inner, count * factor);
      for (let n = 0; n < count; n++) output[n] = (lowered[n] ?? 0) + atRest;
      return unsolved;
    },
    moveTo(model, samples) {
      from = done < 1 ? stepper.present() : to;
      to = model;
      done = 0;
      perSample = 1 / Math.max(1, samples);
    },
  };
}
