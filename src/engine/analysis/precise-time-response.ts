import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {adaptiveRun} from "../realtime/adaptive-run.ts";
import {memoryAt} from "../realtime/derive-step.ts";
import {oversampler} from "../realtime/oversample.ts";
import {raisedSignal} from "../realtime/raised-signal.ts";
import {stepLadder} from "../realtime/step-ladder.ts";
import {operatingPoint} from "./operating-point.ts";
import {finished} from "./time-response.ts";

export type PreciseTimeResponseOptions = Readonly<{
  /** What a step may err by: of what each capacitor and coil holds, and in volts beside that. 1e-6 by default. */
  tolerance?: number;
  /** Whether the voltage is told from where it rests. False by default. */
  fromRest?: boolean;
}>;

/**
 * The same as `timeResponse`, within a tolerance: the steps are as long as it lets them be, whatever the sample rate, and what lies
 * beyond half that rate is taken away before it could fold.
 *
 * @throws {RangeError} if the rate or the tolerance is not positive
 * @throws {CircuitError} if the circuit has no operating point, or a step has no solution
 *
 * Method: the samples as `raisedSignal` reads them; `adaptiveRun`; its curves read at 32 times the rate, and brought down by the
 * half-band filters of live sound.
 */
export function preciseTimeResponse(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
  options: PreciseTimeResponseOptions = {},
): Float64Array {
  return finished(preciseTimeResponsePart(circuit, output, signalVolts, sampleRateHz, options));
}

/** The same, giving after every few blocks the share that is done, for whoever shows it. */
export function* preciseTimeResponsePart(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
  {tolerance = 1e-6, fromRest = false}: PreciseTimeResponseOptions = {},
): Generator<number, Float64Array> {
  requireNode(circuit, output);
  if (!(sampleRateHz > 0 && sampleRateHz < Infinity))
    throw new RangeError(`the sample rate must be positive, got ${sampleRateHz} Hz`);
  if (!(tolerance > 0 && tolerance < Infinity))
    throw new RangeError(`the tolerance must be positive, got ${tolerance}`);
  const {length} = signalVolts;
  const {stamps, x} = operatingPoint(circuit);
  const unknown = stamps.unknownOf.get(output);
  if (unknown === undefined || length === 0) return new Float64Array(length);

  const longest = samplesPerStep / sampleRateHz;
  const ladder = stepLadder(stamps, [unknown], longest);
  const signal = raisedSignal(signalVolts, sampleRateHz, 2 * longest);
  const start = blockLength / sampleRateHz;
  const delayed = (seconds: number) => signal(seconds - start);
  const run = adaptiveRun(ladder, memoryAt(stamps, x), delayed, {relative: tolerance, volts: tolerance}, true);
  const {down, downLatency} = oversampler(readOversampling, blockLength);
  const latency = Math.ceil(downLatency / readOversampling);
  /** How much earlier than its block the curve is read, so that the filters' lateness is a whole number of samples. */
  const early = latency * readOversampling - downLatency;
  const inner = blockLength * readOversampling;
  const [seconds, volts] = [new Float64Array(inner), new Float64Array(inner)];
  const response = new Float64Array(length);
  const rest = x[unknown] ?? 0;
  // From a block before the first sample: what the rate can hold of a sound that begins at once begins a little earlier.
  for (let from = -blockLength; from < length + latency; from += blockLength) {
    for (let k = 0; k < inner; k++)
      seconds[k] = Math.max(0, start + (from * readOversampling + k - early) / (readOversampling * sampleRateHz));
    run.advance(seconds, volts);
    // The deviation from rest is filtered, not the rest itself: before the sound lies rest, not 0 V.
    for (let k = 0; k < inner; k++) volts[k] = (volts[k] ?? Number.NaN) - rest;
    const lowered = down(volts, inner);
    for (let n = Math.max(0, latency - from); n < blockLength && from + n - latency < length; n++)
      response[from + n - latency] = (lowered[n] ?? Number.NaN) + (fromRest ? 0 : rest);
    if (from % (32 * blockLength) === 0) yield Math.max(0, from) / (length + latency);
  }
  return response;
}

/** Longest step in samples: nothing the rate can hold goes unseen within it. */
const samplesPerStep = 4;
const blockLength = 128;
/** How many times the rate the curves are read at: what folds from there lies under −110 dB, 5 kHz of 1 V through two diodes. */
const readOversampling = 32;
