import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {adaptiveRun, type Tolerance} from "../realtime/adaptive-run.ts";
import {memoryAt} from "../realtime/derive-step.ts";
import {stepLadder, type StepLadder} from "../realtime/step-ladder.ts";
import {operatingPoint} from "./operating-point.ts";

/** What a step may err by where nothing else is asked for: the response then lies some 120 dB off its exact course. */
const usualTolerance: Tolerance = {relative: 1e-6, volts: 1e-6};

export type PreciseTransientOptions = Partial<Tolerance> &
  Readonly<{
    /** Longest step; the signal may be passed over where it only shows for less than a third of it. 20 ms by default. */
    longestSeconds?: number;
  }>;

/**
 * Voltages of `outputs` in volts at each of `seconds`, while the signal source plays `signal`, volts over time in seconds, from the
 * operating point on.
 *
 * The steps are as long as the tolerance lets them be, so that it costs what the waveform has in it, and not what its points are:
 * `relative` is a step's error beside what a capacitor or a coil holds and an output has, `volts` the error beside nothing (1e-6 both by
 * default).
 *
 * @param seconds rising, from 0 on
 * @throws {RangeError} if the times do not rise from 0 on, or a tolerance or the longest step is not positive
 * @throws {CircuitError} if the circuit has no operating point, or a step has no solution
 *
 * Method: three-stage Radau IIA of order 5 with steps of its own choice, `adaptiveRun`.
 */
export function preciseTransient(
  circuit: Circuit,
  outputs: readonly NodeName[],
  signal: (seconds: number) => number,
  seconds: Float64Array,
  options: PreciseTransientOptions = {},
): ReadonlyMap<NodeName, Float64Array> {
  const {relative, volts, longestSeconds} = {...usualTolerance, longestSeconds: 0.02, ...options};
  for (const output of outputs) requireNode(circuit, output);
  requirePositive({relative, volts, longestSeconds});
  seconds.forEach((time, n) => {
    if (!(time >= (seconds[n - 1] ?? 0) && time < Infinity))
      throw new RangeError(`times must rise from 0 s on, got ${time} s after ${seconds[n - 1] ?? 0} s`);
  });
  const {stamps, x} = operatingPoint(circuit);
  const unknowns = outputs.map((output) => stamps.unknownOf.get(output) ?? -1);
  const key = JSON.stringify([unknowns, longestSeconds]);
  const kept = ladders.get(circuit);
  const ladder = kept?.key === key ? kept.ladder : stepLadder(stamps, unknowns, longestSeconds);
  ladders.set(circuit, {key, ladder});
  const side = new Float64Array(seconds.length * outputs.length);
  adaptiveRun(ladder, memoryAt(stamps, x), signal, {relative, volts}, true).advance(seconds, side);
  return new Map(
    outputs.map((output, k) => [
      output,
      Float64Array.from(seconds, (_, n) => side[n * outputs.length + k] ?? Number.NaN),
    ]),
  );
}

// What a circuit's steps are derived from never changes: who plays it again finds them made.
const ladders = new WeakMap<Circuit, Readonly<{key: string; ladder: StepLadder}>>();

function requirePositive(values: Readonly<Record<"relative" | "volts" | "longestSeconds", number>>): void {
  for (const [name, value] of Object.entries(values))
    if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} must be positive, got ${value}`);
}
