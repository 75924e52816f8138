import {variableOhms} from "../../engine/circuit/resistance.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import type {Control} from "../../engine/course/course-circuit.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";

/** How a place of a control is written: "33 nF", "half way", "in". */
export function placeText(control: Control, value: number): string {
  if (control.choices) return control.choices[value] ?? String(value);
  if (control.kind === "rotation") return rotationText(value);
  return formatQuantity(value, control.unit);
}

/** How it is spoken: "33 nanofarads". */
export function placeSpoken(control: Control, value: number): string {
  if (control.choices || control.kind === "rotation") return placeText(control, value);
  return spokenQuantity(value, control.unit);
}

/** Rotation in words at the places that have one, else in hundredths of the turn. */
export function rotationText(position: number): string {
  if (position === 0) return "all the way down";
  if (position === 1) return "full up";
  if (position === 0.5) return "half way";
  return formatQuantity(100 * position, "%");
}

/** What stands behind a rotation: resistances of the arms, and the taper; empty for a part that is no potentiometer. */
export function rotationDetail({parts}: Circuit, ref: string): string {
  const part = parts.find((each) => each.ref === ref);
  if (part?.kind === "variable resistor") {
    return `${formatQuantity(variableOhms(part), "Ω")} of ${formatQuantity(part.ohms, "Ω")}, ${part.taper} taper`;
  }
  return part?.kind === "potentiometer" ? `${formatQuantity(part.ohms, "Ω")}, ${part.taper} taper` : "";
}

/** Index of the stop that a value stands on, by ratio for parts and by distance otherwise. */
export function stopOf({values}: Control, value: number): number {
  let best = 0;
  for (let k = 1; k < values.length; k++) {
    if (Math.abs((values[k] ?? 0) - value) < Math.abs((values[best] ?? 0) - value)) best = k;
  }
  return best;
}

/** Stops that a Page key passes: a decade of preferred values, a tenth of a turn, else a quarter of the row. */
export function pageStops(control: Control): number {
  if (control.kind === "rotation") return 10;
  if (control.kind !== "part value") return Math.max(1, Math.round(control.values.length / 4));
  const [first = 1] = control.values;
  const decade = control.values.findIndex((value) => value >= first * 9.999);
  return decade > 0 ? decade : control.values.length - 1;
}
