import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {circuitProcessor} from "../realtime/circuit-processor.ts";
import {memoryAt, stepModel} from "../realtime/derive-step.ts";
import {operatingPoint} from "./operating-point.ts";

/**
 * Voltage of `output` over time in volts, as many samples as `signalVolts`, while the signal source plays them.
 *
 * It starts at the operating point, with every capacitor charged as it is at rest, so that nothing thumps. Inside it steps
 * at `oversampling` times the sample rate (8 by default): the trapezoidal rule shifts a corner at 10 kHz by 0.2 % then.
 *
 * @throws {RangeError} if the rate is not positive or the factor is not 1, 2, 4, 8, 16, 32 or 64
 * A step that has no solution, as an op-amp whose output carries its own supply can meet, holds the output; `onHeld` is told of it.
 *
 * @throws {CircuitError} if the circuit has no operating point
 */
export function timeResponse(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
  options: TimeResponseOptions = {},
): Float64Array {
  return finished(timeResponsePart(circuit, output, signalVolts, sampleRateHz, options));
}

export type TimeResponseOptions = Readonly<{
  oversampling?: number;
  /** Whether the voltage is told from where it rests, as one hears it: a steady voltage has no sound. False by default. */
  fromRest?: boolean;
  /** Whether the rule's own error is taken out, as live sound has it, for two thirds of the time more. False by default. */
  corrects?: boolean;
  /** Called once for every block of samples in which a step found no solution, with about when; nobody is told by default. */
  onHeld?: (seconds: number) => void;
}>;

/** The same, giving after every few blocks the share that is done, for whoever shows it. */
export function* timeResponsePart(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
  {oversampling = 8, fromRest = false, corrects = false, onHeld}: TimeResponseOptions = {},
): Generator<number, Float64Array> {
  requireNode(circuit, output);
  if (!(sampleRateHz > 0 && sampleRateHz < Infinity))
    throw new RangeError(`the sample rate must be positive, got ${sampleRateHz} Hz`);
  const {stamps, x} = operatingPoint(circuit);
  const unknown = stamps.unknownOf.get(output);
  if (unknown === undefined) return new Float64Array(signalVolts.length);
  const model = stepModel(stamps, [unknown], sampleRateHz * oversampling, "trapezoidal");
  const {process, latency, longest} = circuitProcessor(model, memoryAt(stamps, x), oversampling, undefined, {corrects});
  const {length} = signalVolts;
  const late = new Float64Array(length + latency);
  const input = new Float64Array(longest);
  for (let from = 0; from < late.length; from += longest) {
    const block = signalVolts.subarray(Math.min(from, length), from + longest);
    input.fill(0);
    input.set(block);
    const count = Math.min(longest, late.length - from);
    if (process(input, late.subarray(from), count) > 0) onHeld?.(from / sampleRateHz);
    if (from % (32 * longest) === 0) yield from / late.length;
  }
  const response = late.subarray(latency);
  const rest = fromRest ? (x[unknown] ?? 0) : 0;
  if (rest !== 0) for (let n = 0; n < length; n++) response[n] = (response[n] ?? 0) - rest;
  return response;
}

/** What a piecewise computation returns in the end. */
export function finished<T>(parts: Generator<unknown, T>): T {
  for (;;) {
    const {done, value} = parts.next();
    if (done === true) return value;
  }
}
