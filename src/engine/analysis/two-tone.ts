import {requireNode, type Circuit} from "../circuit/circuit.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import type {NodeName} from "../circuit/part.ts";
import {stepModel} from "../realtime/derive-step.ts";
import {harmonicAt} from "./harmonics.ts";
import {intermodulationOf, type Intermodulation} from "./intermodulation.ts";
import {operatingPoint} from "./operating-point.ts";
import {settlePeriod} from "./settle-period.ts";

/** Two sines added at the signal source, both rising through 0 V at t = 0. */
export type TwoTones = Readonly<{lowHz: number; highHz: number; lowPeakVolts: number; highPeakVolts: number}>;

/** A line of the output's spectrum at low·lowHz + high·highHz, as amplitude·cos(2π·frequencyHz·t + phase), volts of peak. */
export type Product = Readonly<{
  low: number;
  high: number;
  /** |low| + |high|; 1 is a tone itself. */
  order: number;
  frequencyHz: number;
  amplitude: number;
  phaseDegrees: number;
}>;

/** What two tones settle to. */
export type TwoToneResponse = Readonly<{
  /** Rate at which the pair of tones repeats, in hertz. */
  commonHz: number;
  /** Volts of the output over one common period, equally spaced, the first at t = 0. */
  cycle: Float64Array;
  /** By ascending order, then frequency. Products that fall on one frequency all show what is there. */
  products: readonly Product[];
  intermodulation: Intermodulation;
}>;

/**
 * The settled response to two tones: waveform over their common period, products up to `order`, and intermodulation by IEC 60268-3.
 *
 * @param options.order highest order of products listed: 6 by default
 * @param options.stepsPerCycle steps in one cycle of the upper tone: 512 by default; the error falls with the cube
 * @throws {RangeError} if a frequency or level is not positive, the lower tone is not below the upper, or the two do not repeat
 *   within 1000 cycles of the upper
 * @throws {CircuitError} if the circuit has no operating point, or does not settle
 *
 * Method: Radau IIA steps over the common period, settled as in `settlePeriod`; the spectrum by the discrete Fourier transform, every step a sample.
 */
export function twoTone(
  circuit: Circuit,
  output: NodeName,
  {lowHz, highHz, lowPeakVolts, highPeakVolts}: TwoTones,
  {order = 6, stepsPerCycle = 512}: Readonly<{order?: number; stepsPerCycle?: number}> = {},
): TwoToneResponse {
  requireNode(circuit, output);
  if (!(lowPeakVolts > 0 && highPeakVolts > 0 && lowPeakVolts + highPeakVolts < Infinity))
    throw new RangeError(`two tones need two positive levels, got ${lowPeakVolts} V and ${highPeakVolts} V`);
  if (!(Number.isInteger(order) && order >= 1 && Number.isInteger(stepsPerCycle) && stepsPerCycle > 2 * order))
    throw new RangeError(
      `products up to an order need more than twice as many steps a cycle, got ${order} and ${stepsPerCycle}`,
    );
  const commonHz = commonRateHz(lowHz, highHz);
  const [low, high] = [Math.round(lowHz / commonHz), Math.round(highHz / commonHz)];
  const steps = stepsPerCycle * high;

  const point = operatingPoint(circuit);
  const {stamps} = point;
  const model = stepModel(stamps, [stamps.unknownOf.get(output) ?? -1], steps * commonHz, "Radau IIA");
  const radians = (2 * Math.PI) / steps;
  const signal = (n: number) =>
    lowPeakVolts * Math.sin(radians * low * n) + highPeakVolts * Math.sin(radians * high * n);
  const {outputs, settled, unsolved} = settlePeriod(model, point, signal, steps, close);
  if (!settled || unsolved > 0)
    throw new CircuitError(`"${output}" does not settle under ${lowHz} Hz and ${highHz} Hz; try lower levels`);
  // The outputs begin one step after t = 0; the last of them is that moment again.
  const cycle = outputs.map((_, n) => outputs[(n + steps - 1) % steps] ?? 0);
  const products = combinations(order)
    .map(([a, b]) => (a * low + b * high < 0 ? ([-a, -b] as const) : ([a, b] as const)))
    .filter(([a, b]) => a * low + b * high !== 0)
    .map(([a, b]) => {
      const harmonic = a * low + b * high;
      const frequencyHz = harmonic * commonHz;
      return {low: a, high: b, order: Math.abs(a) + Math.abs(b), frequencyHz, ...harmonicAt(cycle, harmonic)};
    })
    .sort((one, other) => one.order - other.order || one.frequencyHz - other.frequencyHz);
  return {commonHz, cycle, products, intermodulation: intermodulationOf(cycle, low, high)};
}

/** Relative to the memory's size: what rounding leaves of a period of a million steps. */
const close = 1e-10;

/** Pairs (a, b) with 1 ≤ |a| + |b| ≤ order, one of each pair of opposite signs. */
function combinations(order: number): readonly (readonly [number, number])[] {
  const pairs: [number, number][] = [];
  for (let b = 0; b <= order; b++) for (let a = b - order; a <= order - b; a++) if (b > 0 || a > 0) pairs.push([a, b]);
  return pairs;
}

/**
 * Highest rate of which both frequencies are whole multiples, in hertz.
 *
 * @throws {RangeError} if a frequency is not positive or no multiple of 1 mHz, the lower is not below the upper, or the rate is so low
 *   that the upper tone runs through more than 1000 cycles before the two repeat
 */
export function commonRateHz(lowHz: number, highHz: number): number {
  if (!(lowHz > 0 && lowHz < highHz && highHz < 1e6))
    throw new RangeError(`two tones need ascending frequencies from above 0 Hz, got ${lowHz} Hz and ${highHz} Hz`);
  let [a, b] = [Math.round(highHz * 1000), Math.round(lowHz * 1000)];
  const whole = Math.abs(highHz * 1000 - a) < 1e-6 * a && Math.abs(lowHz * 1000 - b) < 1e-6 * b;
  while (b > 0) [a, b] = [b, a % b];
  const rate = a / 1000;
  if (whole && highHz / rate <= 1000) return rate;
  throw new RangeError(
    `${lowHz} Hz and ${highHz} Hz repeat too seldom; choose two whole numbers of hertz with a common divisor, ` +
      `such as ${Math.max(10, Math.round(lowHz / 10) * 10)} Hz and ${Math.max(20, Math.round(highHz / 10) * 10)} Hz`,
  );
}
