import type {Circuit} from "../circuit/circuit.ts";
import {ground, separateNodes, shortsOf} from "../circuit/nodes.ts";
import type {NodeName, OpAmp, Part} from "../circuit/part.ts";
import {armOhms, variableOhms} from "../circuit/resistance.ts";
import type {Anchors} from "./islands.ts";
import type {Port, Unknown} from "./ports.ts";

export type {DiodePort, OpAmpPort, Port, Unknown} from "./ports.ts";

/** A sparse matrix as entries to be added up: the same place may occur more than once. */
export type Triplets = Readonly<{rows: Int32Array; columns: Int32Array; values: Float64Array}>;

/**
 * What stores something: `from`·x, the volts of a capacitor or amperes of an inductor, whose change over time counts `value`
 * times `into` rows. The storage matrix C is the sum of all value·into⊗from.
 */
export type Store = Readonly<{from: Terms; into: Terms; value: number}>;
type Terms = readonly (readonly [unknown: Unknown, factor: number])[];

/**
 * The equations G·x + C·dx/dt + Σ ports = b(t) of a circuit.
 *
 * The unknowns x are node voltages, in volts, then branch currents, in amperes. Row k of a node is Kirchhoff's current
 * law: currents that leave the node add up to 0. Nodes joined by a wire or by an arm of 0 Ω share one unknown.
 */
export type Stamps = Readonly<{
  size: number;
  /** Unknown of each node; nodes joined to ground are absent, like ground itself. */
  unknownOf: ReadonlyMap<NodeName, Unknown>;
  /**
   * Unknown of each branch current, by reference. Inductor and voltage source: from the first node through the part to
   * the second. Op-amp: out of its output.
   */
  branchOf: ReadonlyMap<string, Unknown>;
  conductance: Triplets;
  storage: Triplets;
  /** The same as `storage`, one entry a thing that stores; equal ones side by side are one. */
  stores: readonly Store[];
  /** b at rest: steady sources and the supply current of op-amps. */
  steady: Float64Array;
  /** b per volt (or ampere) of the source marked as signal. */
  signal: Float64Array;
  ports: readonly Port[];
  /** Where only diodes and capacitors join some nodes to the rest, once the diodes' slopes are known: see islands.ts. */
  anchors?: Anchors;
  /** Slope at rest of each law of `nonlinearities`, once rest is found. */
  restSlopes?: Float64Array;
}>;

/**
 * One set of stamps for every analysis.
 *
 * Method: modified nodal analysis, Ho, Ruehli and Brennan, IEEE Trans. Circuits and Systems 22, 504–509 (1975) [cited
 * from memory]. Ideal op-amp: a nullor, v(plus) − v(minus) = 0 with the output current free. Single pole:
 * (1/A0 + s/(2π·GBW))·(v(output) + Rout·i) − (v(plus) − v(minus)) = 0, which is A(s) = A0/(1 + s·A0/(2π·GBW)) divided out.
 */
export function stamps({parts, nodes}: Circuit): Stamps {
  const joined = separateNodes();
  for (const part of parts) for (const [a, b] of shortsOf(part)) joined.join(a, b);
  const indexOf = new Map<NodeName, Unknown>([[ground, -1]]);
  const unknownOf = new Map<NodeName, Unknown>();
  let size = 0;
  for (const node of nodes) {
    const leader = joined.leader(node);
    let index = indexOf.get(leader);
    if (index === undefined) indexOf.set(leader, (index = size++));
    if (index >= 0) unknownOf.set(node, index);
  }
  const branchOf = new Map<string, Unknown>();
  for (const {kind, ref} of parts) {
    if (kind === "inductor" || kind === "voltage source" || kind === "op-amp") branchOf.set(ref, size++);
  }

  const at = (node: NodeName): Unknown => unknownOf.get(node) ?? -1;
  const branch = (ref: string): Unknown => branchOf.get(ref) ?? -1;
  const conductance = entries();
  const storage = entries();
  const steady = new Float64Array(size);
  const signal = new Float64Array(size);
  const ports: Port[] = [];
  const stores: Store[] = [];
  const store = (from: Terms, into: Terms, value: number): void => {
    const alike = stores.findIndex((other) => sameTerms(other.from, from) && sameTerms(other.into, into));
    if (alike < 0) stores.push({from, into, value});
    else stores[alike] = {from, into, value: value + (stores[alike]?.value ?? 0)};
    for (const [row, out] of into) for (const [column, factor] of from) storage.add(row, column, out * factor * value);
  };

  const resistance = (a: NodeName, b: NodeName, ohms: number) => {
    if (ohms > 0) conductance.between(at(a), at(b), 1 / ohms);
  };
  const stamp = (part: Part): void => {
    switch (part.kind) {
      case "resistor":
        return resistance(...part.nodes, part.ohms);
      case "variable resistor":
        return resistance(...part.nodes, variableOhms(part));
      case "potentiometer": {
        const [top, wiper, bottom] = part.nodes;
        const {upper, lower} = armOhms(part);
        resistance(top, wiper, upper);
        return resistance(wiper, bottom, lower);
      }
      case "capacitor": {
        const across = difference(at(part.nodes[0]), at(part.nodes[1]));
        if (across.length > 0) store(across, across, part.farads);
        return;
      }
      case "inductor": {
        const i = branch(part.ref);
        conductance.branch(at(part.nodes[0]), at(part.nodes[1]), i);
        return store([[i, 1]], [[i, -1]], part.henries);
      }
      case "voltage source": {
        const i = branch(part.ref);
        conductance.branch(at(part.nodes[0]), at(part.nodes[1]), i);
        if (part.seriesOhms !== undefined && part.seriesOhms > 0) conductance.add(i, i, -part.seriesOhms);
        steady[i] = part.volts;
        if (part.signal === true) signal[i] = 1;
        return;
      }
      case "current source": {
        const [from, to] = [at(part.nodes[0]), at(part.nodes[1])];
        inject(steady, from, to, part.amperes);
        if (part.signal === true) inject(signal, from, to, 1);
        return;
      }
      case "diode": {
        const {ref, model, inSeries} = part;
        ports.push({kind: "diode", ref, anode: at(part.nodes[0]), cathode: at(part.nodes[1]), model, inSeries});
        return;
      }
      case "op-amp":
        return opAmp(part);
      case "wire":
        return;
    }
  };
  const opAmp = ({ref, nodes: [p, m, o], supply, model}: OpAmp): void => {
    const [plus, minus, output, i] = [at(p), at(m), at(o), branch(ref)];
    const inverseGain = 1 / model.openLoopGain;
    const secondsPerRadian = 1 / (2 * Math.PI * model.gainBandwidthHz);
    if (Number.isFinite(model.inputOhms)) resistance(p, m, model.inputOhms);
    conductance.add(output, i, -1);
    conductance.add(i, plus, -1);
    conductance.add(i, minus, 1);
    // What the op-amp's pole acts on: its output voltage before the output resistance.
    const inside: Terms = [
      ...(output >= 0 ? [[output, 1] as const] : []),
      ...(model.outputOhms > 0 ? [[i, model.outputOhms] as const] : []),
    ];
    if (inverseGain !== 0) for (const [unknown, factor] of inside) conductance.add(i, unknown, inverseGain * factor);
    if (secondsPerRadian !== 0 && inside.length > 0) store(inside, [[i, 1]], secondsPerRadian);
    if (supply !== undefined && model.supplyAmperes !== undefined) {
      inject(steady, at(supply.positive), at(supply.negative), model.supplyAmperes);
    }
    if (supply === undefined && model.slewVoltsPerSecond === undefined) return;
    const rails = supply && {supply: {positive: at(supply.positive), negative: at(supply.negative)}};
    ports.push({kind: "op-amp", ref, plus, minus, output, branch: i, model, ...rails});
  };

  for (const part of parts) stamp(part);
  const matrices = {conductance: conductance.done(), storage: storage.done(), stores};
  return {size, unknownOf, branchOf, ...matrices, steady, signal, ports};
}

/** v(a) − v(b), ground left out; empty where both are one. */
function difference(a: Unknown, b: Unknown): Terms {
  if (a === b) return [];
  return ([a, b] as const).flatMap((unknown, k) => (unknown < 0 ? [] : [[unknown, k === 0 ? 1 : -1] as const]));
}

function sameTerms(a: Terms, b: Terms): boolean {
  return a.length === b.length && a.every(([unknown, factor], k) => unknown === b[k]?.[0] && factor === b[k][1]);
}

/** Current that leaves `from` inside a source and arrives at `to`. */
function inject(b: Float64Array, from: Unknown, to: Unknown, amperes: number): void {
  if (from >= 0) b[from] = (b[from] ?? 0) - amperes;
  if (to >= 0) b[to] = (b[to] ?? 0) + amperes;
}

/** Collects entries of a matrix; anything in the row or column of ground is dropped. */
function entries() {
  const rows: number[] = [];
  const columns: number[] = [];
  const values: number[] = [];
  const add = (row: Unknown, column: Unknown, value: number): void => {
    if (row < 0 || column < 0) return;
    rows.push(row);
    columns.push(column);
    values.push(value);
  };
  /** A conductance or a capacitance between two nodes. */
  const between = (a: Unknown, b: Unknown, value: number): void => {
    if (a === b) return;
    add(a, a, value);
    add(b, b, value);
    add(a, b, -value);
    add(b, a, -value);
  };
  /** A branch current i from a to b, and its equation's v(a) − v(b). */
  const branch = (a: Unknown, b: Unknown, i: Unknown): void => {
    if (a === b) return;
    add(a, i, 1);
    add(b, i, -1);
    add(i, a, 1);
    add(i, b, -1);
  };
  const done = (): Triplets => ({
    rows: Int32Array.from(rows),
    columns: Int32Array.from(columns),
    values: Float64Array.from(values),
  });
  return {add, between, branch, done};
}
