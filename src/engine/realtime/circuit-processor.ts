import {blockStepper} from "./block-stepper.ts";
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
   * @returns how many inner steps were not solved to the last digit
   */
  process: (input: Float64Array, output: Float64Array, count: number) => number;
  /**
   * Goes over to another model of the same circuit within the next `samples`, in small even pieces, so that a control in motion
   * makes no noise of its own. @throws {RangeError} if the model has another shape
   */
  moveTo: (model: StepModel, samples: number) => void;
}>;

/** Samples that a moving circuit stands still between two pieces of its way: at 48 kHz a sixth of a millisecond. */
const samplesPerPiece = 8;

/**
 * A circuit as a stream: up to `factor` times the rate, a step a sample there, and down again. It starts from `state`, at rest.
 *
 * @param model made at `factor` times the stream's rate; trapezoidal
 * @throws {RangeError} if the factor is not 1, 2, 4, 8, 16 or 32, or the model wants more than one input a step
 */
export function circuitProcessor(
  model: StepModel,
  state: Float64Array,
  factor: number,
  longest = 128,
): CircuitProcessor {
  if (model.stages !== 1) throw new RangeError("a stream is stepped by the trapezoidal rule");
  const stepper = blockStepper(model, state);
  const {latency, up, down} = oversampler(factor, longest);
  const stepped = new Float64Array(longest * factor * model.outputs);
  const inner = model.outputs === 1 ? stepped : new Float64Array(longest * factor);
  // The output's deviation from rest is filtered, not the rest itself: before the sound lies rest, not 0 V.
  stepper.run(new Float64Array(1), stepped);
  const atRest = stepped[0] ?? 0;
  let from = model;
  let to = model;
  let done = 1;
  let perPiece = 1;

  const piece = (input: Float64Array, output: Float64Array, start: number, count: number): number => {
    const raised = up(input.subarray(start, start + count), count);
    const unsolved = stepper.run(raised.subarray(0, count * factor), stepped);
    for (let n = 0; n < count * factor; n++) inner[n] = (stepped[n * model.outputs] ?? 0) - atRest;
    const lowered = down(inner, count * factor);
    for (let n = 0; n < count; n++) output[start + n] = (lowered[n] ?? 0) + atRest;
    return unsolved;
  };
  return {
    latency,
    longest,
    process(input, output, count) {
      let unsolved = 0;
      for (let start = 0; start < count;) {
        const moving = done < 1;
        if (moving) {
          done = Math.min(1, done + perPiece);
          stepper.blend(from, to, done);
        }
        const length = moving ? Math.min(samplesPerPiece, count - start) : count - start;
        unsolved += piece(input, output, start, length);
        start += length;
      }
      return unsolved;
    },
    moveTo(model, samples) {
      from = done < 1 ? stepper.present() : to;
      to = model;
      done = 0;
      perPiece = samplesPerPiece / Math.max(samplesPerPiece, samples);
    },
  };
}
