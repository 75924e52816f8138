import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import type {Circuit} from "../../../src/engine/circuit/circuit.ts";
import {CircuitError} from "../../../src/engine/circuit/circuit-error.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";

/**
 * The circuit whose rest is a step's solution: each capacitor and coil as the trapezoidal rule has it, a resistance and a source of
 * what it held (Nagel's companion models).
 *
 * @param held voltage and current of a part at the step before
 */
export function companionCircuit(
  {nodes}: Circuit,
  parts: readonly Part[],
  volts: number,
  rateHz: number,
  held: (part: Part) => readonly [volts: number, amperes: number],
): Circuit {
  const stages = parts.flatMap((part): readonly Part[] => {
    if (part.kind === "voltage source") return part.signal === true ? [{...part, volts: part.volts + volts}] : [part];
    if (part.kind !== "capacitor" && part.kind !== "inductor") return [part];
    const [v, i] = held(part);
    const capacitor = part.kind === "capacitor";
    const ohms = capacitor ? 1 / (2 * rateHz * part.farads) : 2 * rateHz * part.henries;
    const [a, b, between] = [part.nodes[0], part.nodes[1], `${part.ref} between`];
    return [
      {kind: "resistor", ref: part.ref, nodes: [a, between], ohms},
      {
        kind: "voltage source",
        ref: `${part.ref} held`,
        nodes: [between, b],
        volts: capacitor ? v + i * ohms : -(v + i * ohms),
      },
    ];
  });
  // Past the checks of values: what a step holds may be kilovolts.
  return {nodes: [...new Set([...nodes, ...stages.flatMap((part) => part.nodes)])], parts: stages};
}

/** Whether the search over all unknowns at once finds a rest. */
export function hasRest(circuit: Circuit): boolean {
  try {
    operatingPoint(circuit);
    return true;
  } catch (error) {
    if (error instanceof CircuitError) return false;
    throw error;
  }
}
