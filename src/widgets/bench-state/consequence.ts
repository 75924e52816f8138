import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {inputCornerHz, legCornerHz} from "../../engine/course/formulas.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";
import {circuitOf, responseOf} from "./curves.ts";

/**
 * The one frequency that a lesson is about, as it stands on a bench: what it is called and its value in hertz; and where the
 * curve bends instead, if what the formula leaves out counts.
 */
export type Consequence = Readonly<{name: string; frequencyHz: number; bendHz?: number}>;

/** What a move on this bench led to; undefined where the curve has nothing to name. */
export function consequenceOf(setting: BenchSetting): Consequence | undefined {
  const {corners, lowMark} = responseOf(setting);
  if (lowMark) {
    const frequencyHz = inputCornerHz(circuitOf(setting));
    if (lowMark.kind === "low corner") return {name: "corner", frequencyHz};
    return {name: "corner by the formula", frequencyHz, bendHz: lowMark.frequencyHz};
  }
  if (setting.lesson === 6) return {name: "upper corner", frequencyHz: legCornerHz(circuitOf(setting))};
  const peak = corners.find(({kind}) => kind === "peak");
  return peak && {name: "hump", frequencyHz: peak.frequencyHz};
}

/** "corner 146 Hz", or spoken "corner 146 hertz"; empty where there is nothing to name. */
export function consequenceText(setting: BenchSetting, {spoken = false}: {spoken?: boolean} = {}): string {
  const found = consequenceOf(setting);
  if (!found) return "";
  return `${found.name} ${(spoken ? spokenQuantity : formatQuantity)(found.frequencyHz, "Hz")}`;
}
