import {CircuitError} from "../circuit/circuit-error.ts";
import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {inTime} from "./in-time.ts";
import {stamps, type Stamps} from "./stamps.ts";
import {solveAtRest} from "./solve-at-rest.ts";
import {withStrays} from "./strays.ts";

/** A circuit at rest: what a meter would show with nothing played. */
export type OperatingPoint = Readonly<{
  /** Its equations, for what starts from here: with strays where nothing else holds a node over time, and as `inTime` has them. */
  stamps: Stamps;
  /** Solution, in the order of the stamps' unknowns: volts, then amperes. Shared: not to be written to. */
  x: Float64Array;
  /** Greatest error of Kirchhoff's current law at any node, in amperes. */
  residualAmperes: number;
}>;

/**
 * Voltages and currents with every source at its steady value and the signal at 0.
 *
 * @param options.signal steady value of the signal source in volts or amperes, 0 by default: a sweep over it is the static
 *   transfer curve
 * @param options.near a solution of the same circuit to start from; all at 0 V by default
 * @throws {CircuitError} if the circuit has no solution at rest; the message names the node that is stuck
 */
export function operatingPoint(
  circuit: Circuit,
  options: Readonly<{signal?: number; near?: Float64Array}> = {},
): OperatingPoint {
  const {signal = 0, near} = options;
  if (signal !== 0 || near !== undefined) return solved(circuit, signal, near);
  const known = resting.get(circuit);
  if (known !== undefined) return known;
  const point = solved(circuit, 0, undefined);
  resting.set(circuit, point);
  return point;
}

// A circuit never changes, and one look at it asks for its rest a dozen times: each is worked out once while the circuit lives.
const resting = new WeakMap<Circuit, OperatingPoint>();

function solved(circuit: Circuit, signal: number, near: Float64Array | undefined): OperatingPoint {
  const equations = withStrays(circuit, stamps(circuit));
  const drive = equations.steady.map((value, k) => value + signal * (equations.signal[k] ?? 0));
  const {x, residualAmperes, stuck, islands} = solveAtRest(circuit, equations, drive, near);
  if (stuck !== undefined) {
    const name = nameOf(equations, stuck);
    throw new CircuitError(
      `the circuit has no operating point: ${name} is stuck; look for an op-amp without feedback, a source into nothing, or an inductor across a source`,
    );
  }
  return {stamps: inTime(circuit, equations, x, islands), x, residualAmperes};
}

/** Voltage of a node at rest in volts; 0 for ground and what is joined to it. */
export function restVoltage({stamps: {unknownOf}, x}: OperatingPoint, node: NodeName): number {
  return x[unknownOf.get(node) ?? -1] ?? 0;
}

/** Current of a branch at rest in amperes: inductor and voltage source from first node to second, op-amp out of its output. */
export function restCurrent({stamps: {branchOf}, x}: OperatingPoint, ref: string): number | undefined {
  const unknown = branchOf.get(ref);
  return unknown === undefined ? undefined : x[unknown];
}

function nameOf({unknownOf, branchOf}: Stamps, unknown: number): string {
  for (const [node, index] of unknownOf) if (index === unknown) return `node "${node}"`;
  for (const [ref, index] of branchOf) if (index === unknown) return `the current of ${ref}`;
  return "an unknown";
}
