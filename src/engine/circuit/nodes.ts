import {armOhms, variableOhms} from "./resistance.ts";
import type {NodeName, Part} from "./part.ts";

/** The name of the node that every voltage is measured against. */
export const ground: NodeName = "0";

/** Every node a part touches, the supply of an op-amp included. */
export function nodesOf(part: Part): readonly NodeName[] {
  if (part.kind !== "op-amp" || part.supply === undefined) return part.nodes;
  return [...part.nodes, part.supply.positive, part.supply.negative];
}

/** Pairs of nodes that a part joins without any resistance: wires, and arms of potentiometers turned to 0 Ω. */
export function shortsOf(part: Part): readonly (readonly [NodeName, NodeName])[] {
  if (part.kind === "wire") return [part.nodes];
  if (part.kind === "variable resistor") return variableOhms(part) === 0 ? [part.nodes] : [];
  if (part.kind !== "potentiometer") return [];
  const [top, wiper, bottom] = part.nodes;
  const {upper, lower} = armOhms(part);
  return [...(upper === 0 ? [[top, wiper] as const] : []), ...(lower === 0 ? [[wiper, bottom] as const] : [])];
}

/** Sets of nodes that grow together; each set is known by one of its members. */
export type Groups = Readonly<{
  leader: (node: NodeName) => NodeName;
  /** Joins two sets; false if they were one already. */
  join: (a: NodeName, b: NodeName) => boolean;
}>;

/** Groups in which every node stands alone. Ground leads whatever set it is in. */
export function separateNodes(): Groups {
  const parent = new Map<NodeName, NodeName>();
  const leader = (node: NodeName): NodeName => {
    const above = parent.get(node);
    if (above === undefined) return node;
    const top = leader(above);
    parent.set(node, top);
    return top;
  };
  const join = (a: NodeName, b: NodeName): boolean => {
    const [first, second] = [leader(a), leader(b)];
    if (first === second) return false;
    if (second === ground) parent.set(first, second);
    else parent.set(second, first);
    return true;
  };
  return {leader, join};
}
