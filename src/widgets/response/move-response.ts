import {axisOf, plotBox, xOf, yOf} from "./plot-box.ts";
import {responseMarks} from "./response-marks.ts";
import type {ResponseView} from "./response-plot.ts";

/**
 * Moves the curve of now and all marks of a drawing to where `view` has them, and nothing else: a frame of a drag costs a
 * tenth of drawing it anew. Returns false, having done nothing, where the axis itself would change.
 */
export function moveResponse(drawing: SVGSVGElement, view: ResponseView): boolean {
  const {now, before, reach = []} = view;
  const box = plotBox([now, ...(before ? [before] : []), ...reach], view);
  const line = drawing.querySelector("path[stroke='var(--now)'], g[stroke='var(--now)'] path");
  if (!line || drawing.getAttribute("data-axis") !== axisOf(box)) return false;
  let d = "";
  for (let k = 0; k < now.gainDb.length; k += 2) {
    const gainDb = now.gainDb[k] ?? 0;
    if (gainDb < box.lowDb - 1) continue;
    d += `${d === "" ? "M" : "L"}${xOf(box, now.frequenciesHz[k] ?? 0).toFixed(1)},${yOf(box, gainDb).toFixed(1)}`;
  }
  line.setAttribute("d", d);
  drawing.setAttribute("aria-label", view.name);
  drawing.querySelector(".response-marks")?.replaceWith(responseMarks(view, box, drawing.ownerDocument));
  return true;
}
