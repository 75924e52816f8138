import {ground, separateNodes} from "../circuit/nodes.ts";
import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import type {Stamps, Unknown} from "./stamps.ts";

/** Diagonal entries that make the equations at rest solvable without moving their solution. */
export type RestTies = readonly (readonly [unknown: Unknown, value: number])[];

/**
 * Ties for what rest leaves open: one node of every group that hangs on capacitors alone (it stays at the voltage it has,
 * 0 V at first), and the current of an inductor that closes a loop of inductors.
 *
 * They enter the Jacobian only, never the residual: a node with no current into it keeps its place, whatever the tie.
 */
export function restTies({parts}: Circuit, {unknownOf, branchOf}: Stamps): RestTies {
  const conducting = separateNodes();
  const loops = separateNodes();
  const ties: [Unknown, number][] = [];
  for (const part of parts) {
    for (const [a, b] of conductingPairs(part)) conducting.join(a, b);
    if (part.kind === "wire" || part.kind === "voltage source") loops.join(...part.nodes);
  }
  for (const part of parts) {
    if (part.kind === "inductor" && !loops.join(...part.nodes)) ties.push([branchOf.get(part.ref) ?? -1, -1]);
  }
  const tied = new Set<NodeName>([ground]);
  for (const [node, unknown] of unknownOf) {
    const leader = conducting.leader(node);
    if (tied.has(leader)) continue;
    tied.add(leader);
    ties.push([unknown, 1e-3]);
  }
  return ties;
}

function conductingPairs(part: Part): readonly (readonly [NodeName, NodeName])[] {
  switch (part.kind) {
    case "capacitor":
    case "current source":
      return [];
    case "potentiometer":
      return [
        [part.nodes[0], part.nodes[1]],
        [part.nodes[1], part.nodes[2]],
      ];
    case "op-amp": {
      const [plus, minus, output] = part.nodes;
      return Number.isFinite(part.model.inputOhms)
        ? [
            [output, ground],
            [plus, minus],
          ]
        : [[output, ground]];
    }
    default:
      return [part.nodes];
  }
}
