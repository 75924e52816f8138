import {CircuitError} from "../circuit/circuit-error.ts";
import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import type {ComplexArray} from "./complex-array.ts";
import {smallSignalStamps} from "./small-signal.ts";
import {frequencySolver} from "./solve-at-frequencies.ts";

/**
 * The gain from the signal source to `output` as a function of frequencies in hertz: the circuit is set up once, and may then
 * be asked as often as one likes.
 *
 * @throws {UnknownNodeError} if no part touches `output`
 * @throws {CircuitError} if no source is marked as signal, or the circuit has no operating point
 */
export function responseOf(circuit: Circuit, output: NodeName): (frequenciesHz: Float64Array) => ComplexArray {
  requireNode(circuit, output);
  const equations = smallSignalStamps(circuit);
  if (!equations.signal.some((value) => value !== 0)) {
    throw new CircuitError("no source is marked as the signal; mark the one that plays");
  }
  const solve = frequencySolver(equations);
  const unknown = equations.unknownOf.get(output) ?? -1;
  return (frequenciesHz) => solve.response(equations.signal, unknown, frequenciesHz);
}
