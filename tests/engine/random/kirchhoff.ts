import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {operatingPoint, restVoltage, type OperatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {evaluate, type Law} from "../../../src/engine/analysis/nonlinearities.ts";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import type {Circuit} from "../../../src/engine/circuit/circuit.ts";
import {armOhms, variableOhms} from "../../../src/engine/circuit/resistance.ts";
import type {Diode, NodeName, Part} from "../../../src/engine/circuit/part.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {nonlinearStepper, smallestSteps} from "../../../src/engine/realtime/nonlinear-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {companionCircuit, hasRest} from "./companion-circuit.ts";

/**
 * Largest error of Kirchhoff's current law over the nodes, as a share of the largest current in the circuit, worked out from
 * Ohm's and Shockley's laws part by part and not from the engine's stamps.
 */
export function kirchhoff(circuit: Circuit, point: OperatingPoint): number {
  const {unknownOf, branchOf} = point.stamps;
  const volts = (node: NodeName) => restVoltage(point, node);
  return imbalance(circuit.parts, unknownOf, volts, {
    branch: (ref) => point.x[branchOf.get(ref) ?? -1] ?? 0,
    stored: (part) => (part.kind === "inductor" ? (point.x[branchOf.get(part.ref) ?? -1] ?? 0) : 0),
    digits: (node) => Math.abs(volts(node)),
    gathered: () => 0,
    supply: (amperes, across) => amperes * Math.tanh(across),
  });
}

/**
 * The same at every step of the trapezoidal rule from rest on, while the source plays `signal`: the largest share of all steps. What
 * capacitors and coils carry follows from the voltages of this step and the one before by the rule itself.
 *
 * @param options.asLive steps as live sound does, no closer; else each step is solved as closely as for curves and figures
 * @param options.off the part of a capacitance by which to be wrong on purpose, to see that it shows
 * @param options.missed a step to take for unsolved on purpose, to see that it shows
 * @throws {Error} if a step was not solved that has a solution; one that has none ends the run
 */
export function kirchhoffInTime(
  circuit: Circuit,
  signal: Float64Array,
  rateHz: number,
  {asLive = false, off = 0, missed = -1}: Readonly<{asLive?: boolean; off?: number; missed?: number}> = {},
): number {
  const point = operatingPoint(circuit);
  const {unknownOf, branchOf, size, stores} = point.stamps;
  const everything = Array.from({length: size}, (_, unknown) => unknown);
  const model = stepModel(point.stamps, everything, rateHz, "trapezoidal");
  const memory = memoryAt(point.stamps, point.x);
  const live = blockStepper(model, memory);
  const close = nonlinearStepper(model, memory, undefined, smallestSteps["Radau IIA"]);
  const step = (volts: number, into: Float64Array): boolean => {
    if (asLive) return live.run(Float64Array.of(volts), into) === 0;
    const solved = close.step(volts);
    into.set(close.output);
    return solved;
  };
  // A femtofarad where only diodes lead: the engine's own, but a current like any other.
  const nameOf = new Map([...unknownOf].map(([node, unknown]) => [unknown, node]));
  const parts: Part[] = [...circuit.parts];
  for (const {from, value} of stores.slice(stamps(circuit).stores.length))
    parts.push({
      kind: "capacitor",
      ref: `stray ${parts.length}`,
      nodes: [nameOf.get(from[0]?.[0] ?? -1) ?? "0", "0"],
      farads: value,
    });
  const digits = new Map<NodeName, number>();
  const gathered = new Map<string, number>();
  let now = Float64Array.from(point.x);
  const at = (x: Float64Array, node: NodeName) => x[unknownOf.get(node) ?? -1] ?? 0;
  const across = (x: Float64Array, {nodes: [a, b]}: Part) => at(x, a) - at(x, b as NodeName);
  const carried = new Map(parts.map(({ref}) => [ref, point.x[branchOf.get(ref) ?? -1] ?? 0]));
  let worst = 0;
  let most = highest(point.x);
  for (const [n, volts] of signal.entries()) {
    const next = new Float64Array(size);
    const memoryBefore = Float64Array.from((asLive ? live.single : close).state);
    if (!step(volts, next) || n === missed) {
      const held = (part: Part) => [across(now, part), carried.get(part.ref) ?? 0] as const;
      if (hasRest(companionCircuit(circuit, parts, volts, rateHz, held))) throw new Error("a step was not solved");
      // The search over all unknowns finds nothing either: an op-amp whose output carries its own supply can meet such a step.
      return worst;
    }
    most = Math.max(most, highest(next));
    const values = model.laws.map(({law}, k) => Math.abs(valueOf(law, (asLive ? live.single : close).points[k] ?? 0)));
    // A node's voltage is a sum of what every source, memory and law does to it: its last digit is that of its largest term, and
    // some dozens of them add up, each with a coefficient that an elimination has rounded. Behind an ideal op-amp with 10 mΩ in its
    // leg and 10 MΩ above it memories of 17 V make terms of megavolts that cancel: no step in doubles knows that output better.
    for (const [node, row] of unknownOf) {
      let sum = most;
      memoryBefore.forEach((held, k) => (sum += Math.abs((model.L[row * model.states + k] ?? 0) * held)));
      model.laws.forEach(({column}, k) => {
        sum += Math.abs(model.N[row * model.columns + column] ?? 0) * (values[k] ?? 0);
      });
      digits.set(node, 16 * sum);
    }
    for (const part of parts) {
      const before = carried.get(part.ref) ?? 0;
      const [v, w] = [across(now, part), across(next, part)];
      if (part.kind === "capacitor") carried.set(part.ref, 2 * rateHz * part.farads * (1 + off) * (w - v) - before);
      if (part.kind === "inductor") carried.set(part.ref, before + (v + w) / (2 * rateHz * part.henries));
      // The rule hands what a step has rounded on to the next.
      const rounded = storedSiemens(part, rateHz) * Math.max(...part.nodes.map((node) => digits.get(node) ?? 0));
      gathered.set(part.ref, (gathered.get(part.ref) ?? 0) + rounded);
    }
    const share = imbalance(parts, unknownOf, (node) => at(next, node), {
      branch: (ref) => next[branchOf.get(ref) ?? -1] ?? 0,
      stored: ({ref}) => carried.get(ref) ?? 0,
      digits: (node) => digits.get(node) ?? 0,
      gathered: ({ref}) => gathered.get(ref) ?? 0,
      supply: (amperes) => amperes,
    });
    worst = Math.max(worst, Number.isNaN(share) ? Infinity : share);
    now = next;
  }
  return worst;
}

const highest = (values: Float64Array) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

function valueOf(law: Law, volts: number): number {
  const point = {value: 0, slope: 0};
  evaluate(law, volts, point);
  return point.value;
}

function storedSiemens(part: Part, rateHz: number): number {
  if (part.kind === "capacitor") return 2 * rateHz * part.farads;
  return part.kind === "inductor" ? 1 / (2 * rateHz * part.henries) : 0;
}

type Currents = Readonly<{
  /** Of a source or an op-amp's output. */
  branch: (ref: string) => number;
  /** Of a capacitor or a coil, from its first node to its second. */
  stored: (part: Part) => number;
  /** Volts of which a node's rounding is a last digit. */
  digits: (node: NodeName) => number;
  /** The same for a capacitor's or a coil's current: siemens times volts, over all steps so far. */
  gathered: (part: Part) => number;
  supply: (amperes: number, across: number) => number;
}>;

function imbalance(
  parts: readonly Part[],
  unknownOf: ReadonlyMap<NodeName, number>,
  v: (node: NodeName) => number,
  {branch, stored, digits, gathered, supply}: Currents,
): number {
  const sums = new Map<number, number>();
  let largest = 0;
  const conductances: [a: NodeName, b: NodeName, siemens: number][] = [];
  let remembered = 0;
  const flow = (from: NodeName, to: NodeName, amperes: number): void => {
    largest = Math.max(largest, Math.abs(amperes));
    const [a, b] = [unknownOf.get(from), unknownOf.get(to)];
    if (a !== undefined) sums.set(a, (sums.get(a) ?? 0) - amperes);
    if (b !== undefined) sums.set(b, (sums.get(b) ?? 0) + amperes);
  };
  const ohmic = (a: NodeName, b: NodeName, ohms: number): void => {
    if (ohms === 0) return;
    flow(a, b, (v(a) - v(b)) / ohms);
    conductances.push([a, b, 1 / ohms]);
  };
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
      case "capacitor":
      case "inductor":
        flow(a, b as NodeName, stored(part));
        remembered += gathered(part);
        break;
      case "voltage source":
        flow(a, b as NodeName, branch(part.ref));
        break;
      case "diode":
        flow(a, b as NodeName, diodeCurrent(part, v(part.nodes[0]) - v(part.nodes[1])));
        conductances.push([a, b as NodeName, diodeSiemens(part, v(part.nodes[0]) - v(part.nodes[1]))]);
        break;
      case "op-amp": {
        flow("0", part.nodes[2], branch(part.ref));
        if (Number.isFinite(part.model.inputOhms)) ohmic(part.nodes[0], part.nodes[1], part.model.inputOhms);
        if (part.supply === undefined) break;
        const across = v(part.supply.positive) - v(part.supply.negative);
        flow(part.supply.positive, part.supply.negative, supply(part.model.supplyAmperes ?? 0, across));
        break;
      }
      default:
        break;
    }
  }
  const rounding = conductances.reduce(
    (sum, [a, b, siemens]) => sum + 8 * Number.EPSILON * siemens * Math.max(digits(a), digits(b)),
    8 * Number.EPSILON * remembered,
  );
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

function diodeSiemens(diode: Diode, volts: number): number {
  const {model, inSeries} = diode;
  const {saturationCurrent: Is, emissionCoefficient: n, thermalVoltage: VT, seriesOhms: Rs} = model;
  return 1 / (inSeries * (Rs + (n * VT) / Math.max(Is, diodeCurrent(diode, volts) + Is)));
}

/** The diodes there are, for a test that walks them all. */
export const everyDiode = Object.values(diodeModels);
