import {circuit, type Circuit} from "./circuit.ts";
import {CircuitError} from "./circuit-error.ts";
import type {Part} from "./part.ts";

/** The part called `ref`. @throws {CircuitError} if the circuit has none */
export function partNamed(parts: Circuit, ref: string): Part {
  const part = parts.parts.find((candidate) => candidate.ref === ref);
  if (part !== undefined) return part;
  throw new CircuitError(
    `no part is called "${ref}"; the parts are ${parts.parts.map((each) => each.ref).join(", ")}`,
    {ref},
  );
}

/** The same circuit with `part` in the place of the one of its name, or added at the end. Checked again. */
export function withPart({parts}: Circuit, part: Part): Circuit {
  if (!parts.some(({ref}) => ref === part.ref)) return circuit([...parts, part]);
  return circuit(parts.map((each) => (each.ref === part.ref ? part : each)));
}

/** The same circuit without the parts called `refs`. Checked again: what they held up may float. */
export function without(whole: Circuit, ...refs: readonly string[]): Circuit {
  for (const ref of refs) partNamed(whole, ref);
  return circuit(whole.parts.filter(({ref}) => !refs.includes(ref)));
}

/**
 * The same circuit with the value of one part changed, in the unit of its kind: ohms (the whole track of a
 * potentiometer), farads, henries, volts or amperes.
 *
 * @throws {CircuitError} for a part that has no value: a wire, a diode, an op-amp
 */
export function withValue(whole: Circuit, ref: string, value: number): Circuit {
  return withPart(whole, valued(partNamed(whole, ref), value));
}

/** A part with another value, in the unit of its kind. @throws {CircuitError} if the kind has no value */
export function valued(part: Part, value: number): Part {
  switch (part.kind) {
    case "resistor":
    case "variable resistor":
    case "potentiometer":
      return {...part, ohms: value};
    case "capacitor":
      return {...part, farads: value};
    case "inductor":
      return {...part, henries: value};
    case "voltage source":
      return {...part, volts: value};
    case "current source":
      return {...part, amperes: value};
    default:
      throw new CircuitError(`${part.ref}: a ${part.kind} has no value to change; put another part in its place`, {
        ref: part.ref,
      });
  }
}

/** Value of a part in the unit of its kind, or undefined for a wire, a diode, an op-amp. */
export function valueOf(part: Part): number | undefined {
  switch (part.kind) {
    case "resistor":
    case "variable resistor":
    case "potentiometer":
      return part.ohms;
    case "capacitor":
      return part.farads;
    case "inductor":
      return part.henries;
    case "voltage source":
      return part.volts;
    case "current source":
      return part.amperes;
    default:
      return undefined;
  }
}
