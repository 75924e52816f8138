import {CircuitError} from "../circuit/circuit-error.ts";
import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {fileOversampling, fileTolerance} from "../realtime/rates.ts";
import {preciseTimeResponsePart} from "./precise-time-response.ts";
import {timeResponsePart} from "./time-response.ts";

/**
 * The time response as a sound file has it: from where it rests, closer to the circuit than live sound, which may take no longer than
 * it lasts. Gives the share that is done now and then, as `timeResponsePart`, and throws what that throws.
 *
 * Within a tolerance where anything bends the sound; where nothing does, the trapezoidal rule at a high rate is as true, and quicker.
 * It also takes over where a circuit jumps (a trigger without a pole): there is no course to follow closely then.
 */
export function* fileResponsePart(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
): Generator<number, Float64Array> {
  const options = {tolerance: fileTolerance, oversampling: fileOversampling, fromRest: true};
  if (circuit.parts.some(({kind}) => kind === "diode" || kind === "op-amp")) {
    try {
      return yield* preciseTimeResponsePart(circuit, output, signalVolts, sampleRateHz, options);
    } catch (error) {
      if (!(error instanceof CircuitError)) throw error;
    }
  }
  return yield* timeResponsePart(circuit, output, signalVolts, sampleRateHz, options);
}
