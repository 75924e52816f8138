import type {Circuit} from "../../engine/circuit/circuit.ts";
import {variableOhms} from "../../engine/circuit/resistance.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";

/** What stands behind a rotation: resistances of the arms, and the taper; empty for a part that is no potentiometer. */
export function rotationDetail({parts}: Circuit, ref: string): string {
  const part = parts.find((each) => each.ref === ref);
  if (part?.kind === "variable resistor") {
    return `${formatQuantity(variableOhms(part), "Ω")} of ${formatQuantity(part.ohms, "Ω")}, ${part.taper} taper`;
  }
  return part?.kind === "potentiometer" ? `${formatQuantity(part.ohms, "Ω")}, ${part.taper} taper` : "";
}
