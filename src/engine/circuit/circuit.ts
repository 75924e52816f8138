import {checkLoops, checkPaths} from "./check-structure.ts";
import {checkPart} from "./check-part.ts";
import {CircuitError, DuplicateReferenceError, UnknownNodeError} from "./circuit-error.ts";
import {ground, nodesOf} from "./nodes.ts";
import type {NodeName, Part} from "./part.ts";

/** Parts that were checked once, and the nodes they touch in order of appearance, ground first. */
export type Circuit = Readonly<{parts: readonly Part[]; nodes: readonly NodeName[]}>;

/**
 * A checked circuit. Everything behind it trusts what it let through.
 *
 * @throws {PartValueError} a value is not a positive finite number that a part can have, or a pot is beyond its ends
 * @throws {DuplicateReferenceError} two parts share a designator
 * @throws {FloatingNodeError} a node has no path to ground
 * @throws {SourceLoopError} voltage sources, wires and op-amp outputs fix one voltage twice
 */
export function circuit(parts: readonly Part[]): Circuit {
  if (parts.length === 0) throw new CircuitError("the circuit has no parts; add a source and a load");
  const seen = new Set<string>();
  for (const part of parts) {
    checkPart(part);
    if (seen.has(part.ref)) {
      throw new DuplicateReferenceError(`${part.ref}: two parts have this reference; rename one of them`, {
        ref: part.ref,
      });
    }
    seen.add(part.ref);
  }
  const nodes = [...new Set([ground, ...parts.flatMap(nodesOf)])];
  if (!parts.some((part) => nodesOf(part).includes(ground))) {
    throw new CircuitError(`no part touches ground; connect one terminal to node "${ground}"`, {node: ground});
  }
  checkLoops(parts);
  checkPaths(parts, nodes);
  return {parts: [...parts], nodes};
}

/** The node itself. @throws {UnknownNodeError} if no part of the circuit touches it */
export function requireNode({nodes}: Circuit, node: NodeName): NodeName {
  if (nodes.includes(node)) return node;
  throw new UnknownNodeError(`no part touches node "${node}"; the nodes are ${nodes.join(", ")}`, {node});
}
