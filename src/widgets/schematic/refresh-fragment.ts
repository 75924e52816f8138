import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {describeCircuit} from "./describe-circuit.ts";
import {drawingSizes, type DrawingSize} from "./drawing.ts";
import {refreshDrawing} from "./refresh-drawing.ts";
import {schematicView} from "./schematic-view.ts";

/** Brings one drawing of a fragment on the page to where `setting` puts the bench. */
export function moveDrawing(
  fragment: Element,
  size: DrawingSize,
  setting: BenchSetting,
  partInHand: string | undefined,
): void {
  const svg = fragment.querySelector<SVGSVGElement>(`.schematic-drawing.${size}`);
  if (svg) refreshDrawing(svg, schematicView(setting, {size, partInHand}));
}

/** Brings every drawing of a fragment, and what is said of it, to where `setting` puts the bench. */
export function refreshFragment(fragment: Element, setting: BenchSetting, partInHand: string | undefined): void {
  for (const size of drawingSizes) moveDrawing(fragment, size, setting, partInHand);
  const words = fragment.querySelector(".spoken-only");
  if (words) words.textContent = describeCircuit(schematicView(setting), courseCircuit(setting).listenAt);
}
