import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import type {ComplexArray} from "./complex-array.ts";
import {responseOf} from "./response-of.ts";

export {magnitude, magnitudeDb, phaseDegrees, type ComplexArray} from "./complex-array.ts";

/**
 * Gain from the signal source to `output` at each frequency, as a complex number, in volts per volt (or per ampere).
 *
 * It is the response of a quiet signal: nonlinear parts act as their slope at the operating point.
 *
 * @param frequenciesHz not negative and finite; length F
 * @returns real and imaginary parts, each of length F
 * @throws {UnknownNodeError} if no part touches `output`
 * @throws {CircuitError} if no source is marked as signal, or the circuit has no single solution
 */
export function frequencyResponse(circuit: Circuit, output: NodeName, frequenciesHz: Float64Array): ComplexArray {
  return responseOf(circuit, output)(frequenciesHz);
}

/**
 * `count` frequencies from `lowHz` to `highHz`, equal steps of ratio, ends exact.
 *
 * @throws {RangeError} if the ends are not positive and ascending, or `count` is under 2
 */
export function logFrequencies(lowHz: number, highHz: number, count: number): Float64Array {
  if (!(lowHz > 0 && highHz > lowHz))
    throw new RangeError(`frequencies must ascend from above 0 Hz, got ${lowHz} to ${highHz}`);
  if (!(Number.isInteger(count) && count >= 2))
    throw new RangeError(`a row of frequencies needs 2 or more, got ${count}`);
  const octaves = Math.log2(highHz / lowHz);
  return Float64Array.from({length: count}, (_, k) =>
    k === count - 1 ? highHz : lowHz * 2 ** ((octaves * k) / (count - 1)),
  );
}
