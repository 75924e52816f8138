import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {describeCircuit} from "./describe-circuit.ts";
import {refreshDrawing} from "./refresh-drawing.ts";
import {schematicView} from "./schematic-view.ts";

/** Brings both drawings of a fragment on the page, and what is said of it, to where `setting` puts the bench. */
export function refreshFragment(fragment: Element, setting: BenchSetting, partInHand: string | undefined): void {
  for (const size of ["wide", "compact"] as const) {
    const view = schematicView(setting, {size, partInHand});
    const svg = fragment.querySelector<SVGSVGElement>(`.schematic-drawing.${size}`);
    if (svg) refreshDrawing(svg, view);
    const words = fragment.querySelector(".spoken-only");
    if (size === "wide" && words) words.textContent = describeCircuit(view, courseCircuit(setting).listenAt);
  }
}
