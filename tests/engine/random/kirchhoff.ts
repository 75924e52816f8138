import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {restVoltage, type OperatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import type {Circuit} from "../../../src/engine/circuit/circuit.ts";
import {armOhms, variableOhms} from "../../../src/engine/circuit/resistance.ts";
import type {Diode, NodeName} from "../../../src/engine/circuit/part.ts";

/**
 * Largest error of Kirchhoff's current law over the nodes, as a share of the largest current in the circuit, worked out from
 * Ohm's and Shockley's laws part by part and not from the engine's stamps.
 */
export function kirchhoff({parts}: Circuit, point: OperatingPoint): number {
  const {unknownOf, branchOf} = point.stamps;
  const sums = new Map<number, number>();
  let largest = 0;
  let rounding = 0;
  const flow = (from: NodeName, to: NodeName, amperes: number): void => {
    largest = Math.max(largest, Math.abs(amperes));
    const [a, b] = [unknownOf.get(from), unknownOf.get(to)];
    if (a !== undefined) sums.set(a, (sums.get(a) ?? 0) - amperes);
    if (b !== undefined) sums.set(b, (sums.get(b) ?? 0) + amperes);
  };
  const v = (node: NodeName) => restVoltage(point, node);
  const ohmic = (a: NodeName, b: NodeName, ohms: number): void => {
    if (ohms === 0) return;
    flow(a, b, (v(a) - v(b)) / ohms);
    rounding += (8 * Number.EPSILON * Math.max(Math.abs(v(a)), Math.abs(v(b)))) / ohms;
  };
  const branch = (ref: string) => point.x[branchOf.get(ref) ?? -1] ?? 0;
  for (const part of parts) {
    const [a, b] = part.nodes;
    switch (part.kind) {
      case "resistor":
        ohmic(a, b as NodeName, part.ohms);
        break;
      case "variable resistor":
        ohmic(a, b as NodeName, variableOhms(part));
        break;
      case "potentiometer":
        ohmic(part.nodes[0], part.nodes[1], armOhms(part).upper);
        ohmic(part.nodes[1], part.nodes[2], armOhms(part).lower);
        break;
      case "inductor":
      case "voltage source":
        flow(a, b as NodeName, branch(part.ref));
        break;
      case "diode":
        flow(a, b as NodeName, diodeCurrent(part, v(part.nodes[0]) - v(part.nodes[1])));
        break;
      case "op-amp": {
        flow("0", part.nodes[2], branch(part.ref));
        if (Number.isFinite(part.model.inputOhms)) ohmic(part.nodes[0], part.nodes[1], part.model.inputOhms);
        if (part.supply === undefined) break;
        const across = v(part.supply.positive) - v(part.supply.negative);
        flow(part.supply.positive, part.supply.negative, (part.model.supplyAmperes ?? 0) * Math.tanh(across));
        break;
      }
      default:
        break;
    }
  }
  const worst = Math.max(0, ...[...sums.values()].map(Math.abs));
  // Voltages are doubles: across a milliohm their last digit is worth more than some circuits' whole current. A picoampere, the
  // bound of the operating point, counts as none.
  return Math.max(0, worst - rounding - 1e-12) / Math.max(largest, 1e-15);
}

/** Bisection on the current of a diode with its series resistance: slow, sure, and nothing like the engine's way. */
function diodeCurrent({model, inSeries}: Diode, volts: number): number {
  const {saturationCurrent: Is, emissionCoefficient: n, thermalVoltage: VT, seriesOhms: Rs} = model;
  const v = volts / inSeries;
  if (Rs === 0) return Is * Math.expm1(v / (n * VT));
  let [low, high] = v > 0 ? [0, v / Rs] : [-Is, 0];
  for (let k = 0; k < 2000 && high - low > 0; k++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (Is * Math.expm1((v - middle * Rs) / (n * VT)) > middle) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The diodes there are, for a test that walks them all. */
export const everyDiode = Object.values(diodeModels);
