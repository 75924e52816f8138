/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {groupsOf} from "../circuit/check-structure.ts";
import type {Circuit} from "../circuit/circuit.ts";
import {ground} from "../circuit/nodes.ts";
import type {NodeName} from "../circuit/part.ts";
import type {LinearForm} from "./nonlinearities.ts";
import type {Stamps, Triplets, Unknown} from "./stamps.ts";

/** From which unknown each one counts its volts; −1: from ground. */
export type Anchors = Int32Array;

/** A diode's slope between two unknowns, or one and ground (−1). */
export type Slope = Readonly<{a: Unknown; b: Unknown; siemens: number}>;

/** Capacitors are weighed at 1 kHz, in the middle of what one hears. */
export const middleRadians = 2e3 * Math.PI;

/**
 * Anchors for the nodes that only diodes and capacitors join to ground: the nodes of an island count from one of them, and where
 * something joins two islands more firmly than anything joins them to the rest, one of the two counts from the other. Undefined if there
 * is no island.
 *
 * @param radiansPerSecond where capacitors are weighed; at 0 they join nothing
 */
export function anchorsOf(
  {parts, nodes}: Circuit,
  {unknownOf, size}: Stamps,
  slopes: readonly Slope[],
  radiansPerSecond: number,
): Anchors | undefined {
  const groups = groupsOf(parts.filter(({kind}) => kind !== "diode" && kind !== "capacitor"));
  const rootOf = new Map<string, Unknown>([[ground, -1]]);
  const island = new Int32Array(size).fill(-1);
  const anchors = new Int32Array(size).fill(-1);
  for (const node of nodes) {
    const [leader, unknown] = [groups.leader(node), unknownOf.get(node)];
    if (unknown === undefined) continue;
    const root = rootOf.get(leader);
    if (root === undefined) rootOf.set(leader, unknown);
    else if (root !== unknown) anchors[unknown] = root;
    island[unknown] = root ?? unknown;
  }
  if (rootOf.size === 1) return undefined;
  const at = (node: NodeName): Unknown => unknownOf.get(node) ?? -1;
  const joints = [...slopes];
  for (const part of parts) {
    if (part.kind !== "capacitor" || radiansPerSecond === 0) continue;
    const [a, b] = part.nodes;
    joints.push({a: at(a), b: at(b), siemens: radiansPerSecond * part.farads});
  }
  // Kruskal's way to the tree of strongest joints; what has found ground is a root of its own.
  const above = new Map<Unknown, Unknown>();
  const top = (unknown: Unknown): Unknown => {
    const next = above.get(unknown);
    return next === undefined ? unknown : top(next);
  };
  const rootAt = (unknown: Unknown) => (unknown < 0 ? -1 : top(island[unknown]!));
  for (const {a, b} of joints.toSorted((one, other) => other.siemens - one.siemens)) {
    const [first, second] = [rootAt(a), rootAt(b)];
    if (first === second) continue;
    // What goes counts from the very node that the joint leads to.
    const [stays, goes, from] = second < 0 ? [second, first, b] : [first, second, a];
    above.set(goes, stays);
    anchors[goes] = from;
  }
  return anchors;
}

/** The same equations in other unknowns, and the way there and back, in place. */
export type Anchored = Readonly<{
  equations: Stamps;
  /** A law's voltage, or the rows that it feeds, in the new unknowns. */
  form: (form: LinearForm) => LinearForm;
  fold: (drive: Float64Array) => void;
  count: (solution: Float64Array) => void;
  unfold: (solution: Float64Array) => void;
}>;

/**
 * Equations in which unknowns count from their anchors, and a row holds all that counts from it.
 *
 * A blocking diode holds an island by 1e-22 S, 10 fF by 1e-12 S. Added to 100 S inside the island that would be lost; in the island's
 * own row what flows inside is struck out part by part, exactly, and only what holds it is left.
 */
export function anchored(equations: Stamps, anchors: Anchors): Anchored {
  const {size} = equations;
  const chains = Array.from({length: size}, (_, unknown) => {
    const chain: Unknown[] = [];
    for (let at = unknown; at >= 0; at = anchors[at]!) chain.push(at);
    return chain;
  });
  const spread = ({rows, columns, values}: Triplets): Triplets => {
    const slots = new Map<number, Map<number, number>>();
    values.forEach((value, k) => {
      for (const row of chains[rows[k]!]!) {
        for (const column of chains[columns[k]!]!) {
          const counts = slots.get(row * size + column) ?? new Map<number, number>();
          slots.set(row * size + column, counts);
          const against = counts.get(-value) ?? 0;
          if (against > 0) counts.set(-value, against - 1);
          else counts.set(value, (counts.get(value) ?? 0) + 1);
        }
      }
    });
    const left = [...slots].flatMap(([slot, counts]) =>
      [...counts].filter(([, count]) => count > 0).map(([value, count]) => [slot, value * count] as const),
    );
    return {
      rows: Int32Array.from(left, ([slot]) => Math.floor(slot / size)),
      columns: Int32Array.from(left, ([slot]) => slot % size),
      values: Float64Array.from(left, ([, value]) => value),
    };
  };
  const given = new Float64Array(size);
  return {
    equations: {...equations, conductance: spread(equations.conductance), storage: spread(equations.storage)},
    form(form) {
      const factors = new Map<Unknown, number>();
      for (const [unknown, factor] of form)
        for (const at of chains[unknown]!) factors.set(at, (factors.get(at) ?? 0) + factor);
      return [...factors].filter(([, factor]) => factor !== 0);
    },
    fold(drive) {
      given.set(drive);
      drive.fill(0);
      chains.forEach((chain, k) => chain.forEach((row) => (drive[row]! += given[k]!)));
    },
    count(solution) {
      given.set(solution);
      anchors.forEach((anchor, k) => (solution[k] = anchor < 0 ? given[k]! : given[k]! - given[anchor]!));
    },
    unfold(solution) {
      given.set(solution);
      chains.forEach((chain, k) => (solution[k] = chain.reduce((sum, at) => sum + given[at]!, 0)));
    },
  };
}
