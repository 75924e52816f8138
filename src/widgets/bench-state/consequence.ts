import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {inputCornerHz, legCornerHz} from "../../engine/course/formulas.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";
import {circuitOf, inputCornerFits, responseOf} from "./curves.ts";

/** The one frequency that a lesson is about, as it stands on a bench: what it is called and its value in hertz. */
export type Consequence = Readonly<{name: string; frequencyHz: number}>;

/** What a move on this bench led to; undefined where the curve has nothing to name. */
export function consequenceOf(setting: BenchSetting): Consequence | undefined {
  if (setting.lesson === 2) {
    const name = inputCornerFits(setting) ? "corner" : "corner by the formula";
    return {name, frequencyHz: inputCornerHz(circuitOf(setting))};
  }
  if (setting.lesson === 6) return {name: "upper corner", frequencyHz: legCornerHz(circuitOf(setting))};
  const peak = responseOf(setting).corners.find(({kind}) => kind === "peak");
  return peak && {name: "hump", frequencyHz: peak.frequencyHz};
}

/** "corner 146 Hz", or spoken "corner 146 hertz"; empty where there is nothing to name. */
export function consequenceText(setting: BenchSetting, {spoken = false}: {spoken?: boolean} = {}): string {
  const found = consequenceOf(setting);
  if (!found) return "";
  return `${found.name} ${(spoken ? spokenQuantity : formatQuantity)(found.frequencyHz, "Hz")}`;
}
