import {operatingPoint} from "../analysis/operating-point.ts";
import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import type {VoiceCircuit} from "./live-bench.ts";
import {memoryAt, stepModel} from "./derive-step.ts";

/** The inner rate that live sound is stepped at, in hertz, or the nearest the device's rate can be doubled to. */
export const innerRateHz = 384_000;

/** How many times a device's rate is raised for sound: 8 at 44.1 and 48 kHz, 4 at 96 kHz, 2 at 192 kHz. */
export function usualOversampling(sampleRateHz: number): number {
  return 2 ** Math.max(0, Math.min(5, Math.round(Math.log2(innerRateHz / sampleRateHz))));
}

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
  return {model, memory: memoryAt(stamps, x), oversampling, peakVolts};
}
