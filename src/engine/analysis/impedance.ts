import {requireNode, type Circuit} from "../circuit/circuit.ts";
import {floatingNodes} from "../circuit/check-structure.ts";
import {nodesOf} from "../circuit/nodes.ts";
import type {NodeName} from "../circuit/part.ts";
import type {ComplexArray} from "./complex-array.ts";
import {solveAtFrequencies} from "./solve-at-frequencies.ts";
import {smallSignalStamps} from "./small-signal.ts";

/**
 * Impedance between `node` and ground in ohms at each frequency, all sources at rest: what a load connected there drives
 * itself from. Its own load, if the circuit holds one, counts.
 *
 * @returns real and imaginary parts, as many as frequencies
 * @throws {UnknownNodeError} if no part touches `node`
 *
 * Method: 1 A into the node, every independent source zeroed; nonlinear parts as their slope at the operating point.
 */
export function outputImpedance(circuit: Circuit, node: NodeName, frequenciesHz: Float64Array): ComplexArray {
  requireNode(circuit, node);
  const equations = smallSignalStamps(circuit);
  const unknown = equations.unknownOf.get(node) ?? -1;
  const drive = new Float64Array(equations.size);
  if (unknown >= 0) drive[unknown] = 1;
  return solveAtFrequencies(equations, drive, unknown, frequenciesHz);
}

/**
 * Impedance between `node` and ground in ohms at each frequency with the signal source taken away, leaving its terminals
 * open: what a source connected there has to drive. Parts on the source's side of the node count if the circuit holds them. Infinity
 * where nothing else leads to ground.
 *
 * @returns real and imaginary parts, as many as frequencies
 * @throws {UnknownNodeError} if no part touches `node`
 */
export function inputImpedance(circuit: Circuit, node: NodeName, frequenciesHz: Float64Array): ComplexArray {
  requireNode(circuit, node);
  const left = circuit.parts.filter((part) => !("signal" in part && part.signal === true));
  const lost = floatingNodes(left, circuit.nodes);
  if (lost.includes(node)) return {re: frequenciesHz.map(() => Infinity), im: frequenciesHz.map(() => 0)};
  // What only the source held carries nothing now.
  const parts = left.filter((part) => !nodesOf(part).some((name) => lost.includes(name)));
  return outputImpedance(
    {parts, nodes: circuit.nodes.filter((name) => parts.some((part) => nodesOf(part).includes(name)))},
    node,
    frequenciesHz,
  );
}
