import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {fileOversampling, fileTolerance} from "../realtime/rates.ts";
import {preciseTimeResponsePart} from "./precise-time-response.ts";
import {timeResponsePart} from "./time-response.ts";

/**
 * The time response as a sound file has it: from where it rests, closer to the circuit than live sound, which may take no longer than
 * it lasts. Gives the share that is done now and then, as `timeResponsePart`, and throws what the two it stands for throw.
 *
 * Within a tolerance where anything bends the sound; where nothing does, the trapezoidal rule at a high rate is as true, and quicker.
 */
export function* fileResponsePart(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
): Generator<number, Float64Array> {
  const bends = circuit.parts.some(({kind}) => kind === "diode" || kind === "op-amp");
  return yield* bends
    ? preciseTimeResponsePart(circuit, output, signalVolts, sampleRateHz, {tolerance: fileTolerance, fromRest: true})
    : timeResponsePart(circuit, output, signalVolts, sampleRateHz, {oversampling: fileOversampling, fromRest: true});
}
