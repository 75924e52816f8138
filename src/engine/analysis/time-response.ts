import {CircuitError} from "../circuit/circuit-error.ts";
import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {linearStepper, stepThrough} from "../realtime/linear-stepper.ts";
import {downsample, upsample} from "../realtime/oversample.ts";
import {operatingPoint} from "./operating-point.ts";

/**
 * Voltage of `output` over time in volts, as many samples as `signalVolts`, while the signal source plays them.
 *
 * It starts at the operating point, with every capacitor charged as it is at rest, so that nothing thumps. Inside it steps
 * at `oversampling` times the sample rate (8 by default): the trapezoidal rule shifts a corner at 10 kHz by 0.2 % then.
 *
 * @throws {RangeError} if the rate is not positive or the factor is no whole number from 1 up
 * @throws {CircuitError} if the circuit has parts that are not linear
 */
export function timeResponse(
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
  {oversampling = 8}: Readonly<{oversampling?: number}> = {},
): Float64Array {
  requireNode(circuit, output);
  if (!(sampleRateHz > 0 && sampleRateHz < Infinity))
    throw new RangeError(`the sample rate must be positive, got ${sampleRateHz} Hz`);
  if (!(Number.isInteger(oversampling) && oversampling >= 1)) {
    throw new RangeError(`oversampling must be a whole number from 1 up, got ${oversampling}`);
  }
  const {stamps, x} = operatingPoint(circuit);
  const [curved] = stamps.ports;
  if (curved) throw new CircuitError(`${curved.ref}: the time response of a part that is not linear is not available`);
  const unknown = stamps.unknownOf.get(output);
  if (unknown === undefined) return new Float64Array(signalVolts.length);
  const stepper = linearStepper(stamps, unknown, sampleRateHz * oversampling);
  const inner = upsample(signalVolts, oversampling);
  stepThrough(stepper, inner, inner);
  const rest = x[unknown] ?? 0;
  return downsample(inner, oversampling).map((volts) => volts + rest);
}
