import type {Circuit} from "../circuit/circuit.ts";
import {evaluate, lawsAtRest, type LawPoint} from "./nonlinearities.ts";
import {anchorsOf, middleRadians, type Slope} from "./islands.ts";
import {operatingPoint, type OperatingPoint} from "./operating-point.ts";
import {stamps, type Stamps, type Triplets} from "./stamps.ts";

/**
 * The stamps with every nonlinear part replaced by its slope at the operating point: what a quiet signal meets. No ports
 * are left.
 *
 * @param at the operating point; found here if it is left out
 * @throws {CircuitError} if the circuit has no operating point
 */
export function smallSignalStamps(circuit: Circuit, at?: OperatingPoint): Stamps {
  if (at !== undefined) return linearised(circuit, stamps(circuit), at);
  const known = linear.get(circuit);
  if (known !== undefined) return known;
  const equations = stamps(circuit);
  const found = linearised(circuit, equations, equations.ports.length === 0 ? undefined : operatingPoint(circuit));
  linear.set(circuit, found);
  return found;
}

// As with the operating point: worked out once while the circuit lives.
const linear = new WeakMap<Circuit, Stamps>();

/** Slope of a diode that blocks altogether, in siemens: of no account beside anything, but what hangs on it alone has a voltage. */
const leastSiemens = 1e-60;

function linearised(circuit: Circuit, equations: Stamps, at: OperatingPoint | undefined): Stamps {
  const rows: number[] = [];
  const columns: number[] = [];
  const values: number[] = [];
  const slopes: Slope[] = [];
  const point: LawPoint = {value: 0, slope: 0};
  for (const {from, offset, into, law} of lawsAtRest(equations)) {
    evaluate(
      law,
      from.reduce((sum, [unknown, factor]) => sum + factor * (at?.x[unknown] ?? 0), offset),
      point,
    );
    const slope = law.kind === "diode" ? Math.max(leastSiemens, point.slope) : point.slope;
    if (law.kind === "diode") slopes.push({a: from[0]?.[0] ?? -1, b: from[1]?.[0] ?? -1, siemens: slope});
    for (const [row, weight] of into) {
      for (const [column, factor] of from) {
        rows.push(row);
        columns.push(column);
        values.push(weight * slope * factor);
      }
    }
  }
  const anchors = anchorsOf(circuit, equations, slopes, middleRadians);
  return {
    ...equations,
    conductance: joined(equations.conductance, rows, columns, values),
    ports: [],
    ...(anchors ? {anchors} : {}),
  };
}

function joined(
  first: Triplets,
  rows: readonly number[],
  columns: readonly number[],
  values: readonly number[],
): Triplets {
  return {
    rows: Int32Array.from([...first.rows, ...rows]),
    columns: Int32Array.from([...first.columns, ...columns]),
    values: Float64Array.from([...first.values, ...values]),
  };
}
