import {operatingPoint} from "../analysis/operating-point.ts";
import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import type {VoiceCircuit} from "./live-bench.ts";
import {memoryAt, stepModel} from "./derive-step.ts";
import {usualOversampling} from "./rates.ts";

/**
 * A circuit as a voice that plays the voltage of `output`.
 *
 * @param peakVolts of the signal source for an input of 1
 * @throws {CircuitError} if the circuit has no operating point or no single solution in time
 */
export function voiceCircuit(
  circuit: Circuit,
  output: NodeName,
  peakVolts: number,
  sampleRateHz: number,
  oversampling = usualOversampling(sampleRateHz),
): VoiceCircuit {
  requireNode(circuit, output);
  const {stamps, x} = operatingPoint(circuit);
  const unknown = stamps.unknownOf.get(output) ?? -1;
  const model = stepModel(stamps, [unknown], sampleRateHz * oversampling, "trapezoidal");
  return {model, memory: memoryAt(stamps, x), restVolts: x[unknown] ?? 0, oversampling, peakVolts};
}
