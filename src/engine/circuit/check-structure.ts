import {FloatingNodeError, SourceLoopError} from "./circuit-error.ts";
import {ground, nodesOf, separateNodes, shortsOf, type Groups} from "./nodes.ts";
import type {NodeName, Part} from "./part.ts";

/**
 * Refuses a loop of parts that each fix a voltage: wires, shorted arms, voltage sources, op-amp outputs (to ground).
 *
 * Arms of potentiometers at 0 Ω may lie beside a wire, for turning a knob must never break a circuit; they are joined
 * first and only count when they short a source. A wire beside a wire is a loop: no current in it is defined.
 */
export function checkLoops(parts: readonly Part[]): void {
  const groups = separateNodes();
  for (const part of parts) {
    if (part.kind === "wire") continue;
    for (const [a, b] of shortsOf(part)) groups.join(a, b);
  }
  const wires = separateNodes();
  for (const part of parts) {
    if (part.kind !== "wire") continue;
    const [a, b] = part.nodes;
    if (!wires.join(a, b)) throw loop(part, a, b);
    groups.join(a, b);
  }
  for (const part of parts) {
    if (part.kind !== "voltage source" && part.kind !== "op-amp") continue;
    if (part.kind === "op-amp" && part.model.outputOhms > 0) continue;
    if (part.kind === "voltage source" && (part.seriesOhms ?? 0) > 0) continue;
    const [a, b] = part.kind === "op-amp" ? [part.nodes[2], ground] : part.nodes;
    if (!groups.join(a, b)) throw loop(part, a, b);
  }
}

function loop({ref, kind}: Part, a: NodeName, b: NodeName): SourceLoopError {
  const what = kind === "op-amp" ? "its output" : `this ${kind}`;
  return new SourceLoopError(
    `${ref}: ${what} closes a loop of sources, wires and op-amp outputs between "${a}" and "${b}"; ` +
      "put a resistor in the loop or take one of them out",
    {ref},
  );
}

/** Nodes in groups that chains of parts join. An op-amp's output counts as a path to ground, its inputs do not. */
export function groupsOf(parts: readonly Part[]): Groups {
  const groups = separateNodes();
  for (const part of parts) {
    for (const [a, b] of pathsOf(part)) groups.join(a, b);
  }
  return groups;
}

/** Nodes that no chain of parts joins to ground. */
export function floatingNodes(parts: readonly Part[], nodes: readonly NodeName[]): readonly NodeName[] {
  const groups = groupsOf(parts);
  return nodes.filter((node) => groups.leader(node) !== ground);
}

/** Refuses a node that no chain of parts joins to ground. */
export function checkPaths(parts: readonly Part[], nodes: readonly NodeName[]): void {
  const [lost] = floatingNodes(parts, nodes);
  if (lost === undefined) return;
  const on = parts.filter((part) => nodesOf(part).includes(lost)).map(({ref}) => ref);
  throw new FloatingNodeError(
    `node "${lost}" has no path to ground; parts on it: ${on.join(", ")}; join it to ground through a part`,
    {node: lost},
  );
}

function pathsOf(part: Part): readonly (readonly [NodeName, NodeName])[] {
  switch (part.kind) {
    case "potentiometer":
      return [
        [part.nodes[0], part.nodes[1]],
        [part.nodes[1], part.nodes[2]],
      ];
    case "op-amp": {
      const [plus, minus, output] = part.nodes;
      return [[output, ground], ...(Number.isFinite(part.model.inputOhms) ? [[plus, minus] as const] : [])];
    }
    case "current source":
      return [];
    default:
      return [part.nodes];
  }
}
