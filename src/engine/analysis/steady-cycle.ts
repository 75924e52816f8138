import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import {stepModel} from "../realtime/derive-step.ts";
import {operatingPoint} from "./operating-point.ts";
import {settlePeriod} from "./settle-period.ts";

/** One whole cycle of a circuit that has settled under a sine; every array has equally spaced points, the first at t = 0. */
export type SteadyCycle = Readonly<{
  frequencyHz: number;
  peakVolts: number;
  seconds: Float64Array;
  /** Volts of the signal source. */
  input: Float64Array;
  at: ReadonlyMap<NodeName, Float64Array>;
}>;

/** Relative to the largest value of the memory: what double precision leaves of a cycle of some thousand steps. */
const closest = 1e-11;

/**
 * The periodic steady state under peakVolts·sin(2π·frequencyHz·t): volts of each probe over one cycle.
 *
 * `stepsPerPoint`: steps between two points, 8 by default; fewer are quicker and coarser, as the error falls with the cube.
 * `close`: by how much the memory may miss after a cycle, relative to its size; for a drawing 1e-7 is more than enough.
 *
 * @throws {RangeError} if frequency or points are not positive, or the level is no finite number
 * @throws {CircuitError} if the circuit has no operating point, or does not settle: one that oscillates by itself
 *
 * Method: Radau IIA steps, settled as in `settlePeriod`.
 */
export function steadyCycle(
  circuit: Circuit,
  {frequencyHz, peakVolts}: Readonly<{frequencyHz: number; peakVolts: number}>,
  probes: readonly NodeName[],
  points = 256,
  stepsPerPoint = 8,
  close = closest,
): SteadyCycle {
  if (!(frequencyHz > 0 && frequencyHz < Infinity && Number.isFinite(peakVolts))) {
    throw new RangeError(`a cycle needs a positive frequency and a level, got ${frequencyHz} Hz and ${peakVolts} V`);
  }
  if (!(Number.isInteger(points) && points >= 1 && Number.isInteger(stepsPerPoint) && stepsPerPoint >= 1)) {
    throw new RangeError(`points and steps must be whole numbers from 1 up, got ${points} and ${stepsPerPoint}`);
  }
  for (const probe of probes) requireNode(circuit, probe);
  const point = operatingPoint(circuit);
  const {stamps} = point;
  const unknowns = probes.map((probe) => stamps.unknownOf.get(probe) ?? -1);
  const steps = points * stepsPerPoint;
  const model = stepModel(stamps, unknowns, steps * frequencyHz, "Radau IIA");
  const volts = (step: number) => peakVolts * Math.sin((2 * Math.PI * step) / steps);
  const {outputs, settled, unsolved} = settlePeriod(model, point, volts, steps, close);
  if (!settled || unsolved > 0)
    throw new CircuitError(
      `no settled cycle was found at ${frequencyHz} Hz and ${peakVolts} V; ` +
        "a circuit that oscillates by itself has none, which a time response shows: else try another frequency or level",
    );

  const every = stepsPerPoint * probes.length;
  // The outputs begin one step after t = 0; the last of them is that moment again.
  const at = probes.map((_, k) =>
    Float64Array.from({length: points}, (_, n) => outputs[(n === 0 ? points : n) * every - probes.length + k] ?? 0),
  );
  return {
    frequencyHz,
    peakVolts,
    seconds: Float64Array.from({length: points}, (_, n) => n / (points * frequencyHz)),
    input: Float64Array.from({length: points}, (_, n) => volts(n * stepsPerPoint)),
    at: new Map(probes.map((probe, k) => [probe, at[k] ?? new Float64Array(points)])),
  };
}
