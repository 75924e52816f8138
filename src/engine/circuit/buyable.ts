import {nearestPreferred, potentiometerOhms, type Series} from "../quantities/preferred-values.ts";
import {valued, valueOf} from "./changes.ts";
import {circuit, type Circuit} from "./circuit.ts";
import type {Part} from "./part.ts";

/** Series that each kind of part is bought in. Potentiometers come in the few tracks that are sold. */
export type BuyingSeries = Readonly<{resistors: Series; capacitors: Series}>;

/**
 * The same circuit with every resistor, capacitor and potentiometer at the nearest value that can be bought, by ratio.
 *
 * @param series E24 resistors and E12 capacitors by default
 */
export function buyable({parts}: Circuit, series: BuyingSeries = {resistors: "E24", capacitors: "E12"}): Circuit {
  return circuit(parts.map((part) => valuedIf(part, nearest(part, series))));
}

const valuedIf = (part: Part, value: number | undefined): Part => (value === undefined ? part : valued(part, value));

function nearest(part: Part, {resistors, capacitors}: BuyingSeries): number | undefined {
  const value = valueOf(part);
  if (value === undefined) return undefined;
  switch (part.kind) {
    case "resistor":
      return nearestPreferred(value, resistors);
    case "capacitor":
      return nearestPreferred(value, capacitors);
    case "potentiometer":
    case "variable resistor":
      return potentiometerOhms.reduce((best, each) => (ratio(each, value) < ratio(best, value) ? each : best));
    default:
      return undefined;
  }
}

const ratio = (a: number, b: number) => Math.abs(Math.log(a / b));
