import {ground, separateNodes, shortsOf} from "../circuit/nodes.ts";
import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import type {Stamps, Unknown} from "./stamps.ts";

/** Diagonal entries that make the equations at rest solvable without moving their solution. */
export type RestTies = readonly (readonly [unknown: Unknown, value: number])[];

/**
 * Ties for what rest leaves open: one node of every group that hangs on capacitors alone (it stays at the voltage it has,
 * 0 V at first), one of every group that hangs on diodes, which may hold it by less than rounding error, and the current of an
 * inductor that closes a loop of inductors.
 *
 * They enter the Jacobian only, never the residual: a node with no current into it keeps its place, whatever the tie. The node of an
 * island counts from its anchor (islands.ts), so that no conductance inside the island stands beside its tie.
 */
export function restTies({parts}: Circuit, {unknownOf, branchOf}: Stamps): RestTies {
  const ties: [Unknown, number][] = [];
  const loops = separateNodes();
  for (const part of parts) {
    for (const [a, b] of shortsOf(part)) loops.join(a, b);
    if (part.kind === "voltage source" && !((part.seriesOhms ?? 0) > 0)) loops.join(...part.nodes);
    if (part.kind === "op-amp" && part.model.outputOhms === 0) loops.join(part.nodes[2], ground);
  }
  for (const part of parts) {
    if (part.kind === "inductor" && !loops.join(...part.nodes)) ties.push([branchOf.get(part.ref) ?? -1, -1]);
  }

  const conducting = separateNodes();
  for (const part of parts) for (const [a, b] of conductingPairs(part)) conducting.join(a, b);
  const withDiodes = separateNodes();
  for (const node of unknownOf.keys()) withDiodes.join(conducting.leader(node), node);
  for (const part of parts) if (part.kind === "diode") withDiodes.join(...part.nodes);
  const tied = new Set<NodeName>([ground]);
  for (const [node, unknown] of unknownOf) {
    const island = conducting.leader(node);
    if (tied.has(island)) continue;
    tied.add(island);
    // Where a diode may yet conduct, a tie as weak as an insulator, so that Newton's steps stay Newton's.
    ties.push([unknown, withDiodes.leader(node) === ground ? 1e-12 : 1e-3]);
  }
  return ties;
}

function conductingPairs(part: Part): readonly (readonly [NodeName, NodeName])[] {
  switch (part.kind) {
    case "capacitor":
    case "current source":
    case "diode":
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
