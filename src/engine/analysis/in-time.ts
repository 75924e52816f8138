import type {Circuit} from "../circuit/circuit.ts";
import {anchorsOf, middleRadians} from "./islands.ts";
import {evaluate, nonlinearities, type LawPoint} from "./nonlinearities.ts";
import type {Stamps} from "./stamps.ts";

/** What a diode is taken to join at least, in siemens: some of its steps in time hold a node by that. */
const leastSiemens = 5e-7;

/** Equations at rest at x with what their steps in time are made from: the slopes of the laws there, and anchors of `islands` if there are any. */
export function inTime(circuit: Circuit, equations: Stamps, x: Float64Array, islands: boolean): Stamps {
  const point: LawPoint = {value: 0, slope: 0};
  const laws = nonlinearities(equations);
  const restSlopes = Float64Array.from(laws, ({from, offset, law}) => {
    evaluate(
      law,
      from.reduce((volts, [unknown, factor]) => volts + factor * (x[unknown] ?? 0), offset),
      point,
    );
    return point.slope;
  });
  if (!islands) return {...equations, restSlopes};
  const joints = laws.flatMap(({law, from}, k) => {
    const siemens = Math.max(leastSiemens, restSlopes[k] ?? 0);
    return law.kind === "diode" ? [{a: from[0]?.[0] ?? -1, b: from[1]?.[0] ?? -1, siemens}] : [];
  });
  const anchors = anchorsOf(circuit, equations, joints, middleRadians);
  return {...equations, restSlopes, ...(anchors ? {anchors} : {})};
}
