import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {CurveMark, ResponseCurve} from "../bench-state/curves.ts";
import {placeLabels, ringPx, type Wanted} from "./place-labels.ts";
import {type PlotBox, xOf, yOf} from "./plot-box.ts";

export type MarkedCurves = Readonly<{now: ResponseCurve; before?: ResponseCurve | undefined; compact: boolean}>;

/**
 * What is written on the curves of a response: a round marker for now, a square one for before, each with its label; a
 * ring round a marker that a part makes, to point at; an arrowhead where a corner lies below the axis.
 */
export function responseMarks({now, before, compact}: MarkedCurves, box: PlotBox, document: Document): SVGGElement {
  const svg = "http://www.w3.org/2000/svg";
  const group = document.createElementNS(svg, "g");
  group.setAttribute("class", "response-marks");
  const add = (tag: string, attributes: Readonly<Record<string, string>>, words = ""): void => {
    const element = document.createElementNS(svg, tag);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.textContent = words;
    group.append(element);
  };
  const curves = before ? [before, now] : [now];
  const drawn = curves.filter((curve) => !isSilent(curve));
  for (const curve of curves) {
    const name = curve === now ? "now" : "before";
    for (const {frequencyHz, gainDb} of marks(curve)) {
      const [x, y] = [xOf(box, frequencyHz), yOf(box, gainDb)];
      const tone = name === "now" ? markTones.now : markTones.before;
      if (name === "now") add("circle", {cx: pixels(x), cy: pixels(y), r: "5.5", ...tone});
      else add("rect", {x: pixels(x - 4.5), y: pixels(y - 4.5), width: "9", height: "9", ...tone});
    }
  }
  for (const {text, x, y} of placeLabels(wantedLabels({now, before, compact}, box), drawn, box)) {
    const name = text.startsWith("before") ? "label-before" : "label-now";
    const anchor = {"text-anchor": "middle", "dominant-baseline": "central"};
    add("text", {x: pixels(x), y: pixels(y), ...anchor, class: name}, text);
  }
  for (const curve of curves) {
    const left = yOf(box, curve.gainDb[0] ?? 0);
    if (lowMarkBelow(curve) && left < box.bottom) {
      const fill = curve === now ? "var(--now)" : "var(--before)";
      add("path", {d: `M${box.left - 1} ${pixels(left)}l9 -6v12z`, fill});
    }
    for (const {frequencyHz, gainDb, part} of marks(curve)) {
      if (part === undefined) continue;
      const place = {cx: pixels(xOf(box, frequencyHz)), cy: pixels(yOf(box, gainDb))};
      add("circle", {...place, r: String(ringPx), class: "mark-ring", "data-ref": part});
    }
  }
  return group;
}

const markTones = {
  now: {fill: "var(--now)", stroke: "var(--panel)", "stroke-width": "1.5"},
  before: {fill: "var(--panel)", stroke: "var(--before)", "stroke-width": "2"},
} as const;

const pixels = (place: number) => place.toFixed(1);

const marks = ({corners}: ResponseCurve) => corners.filter(({gainDb}) => Number.isFinite(gainDb)).slice(0, 2);

/** A corner or bend that lies left of the axis. */
const lowMarkBelow = ({lowMark, frequenciesHz}: ResponseCurve) =>
  lowMark && lowMark.frequencyHz <= (frequenciesHz[0] ?? 0) ? lowMark : undefined;

/** Nothing comes through, and there is nothing to draw. */
const isSilent = ({gainDb}: ResponseCurve) => gainDb[0] === -Infinity;

function wantedLabels({now, before, compact}: MarkedCurves, box: PlotBox): readonly Wanted[] {
  const label = (word: string, curve: ResponseCurve): Wanted[] => {
    if (isSilent(curve)) return [{text: `${word}: silent`, frequencyHz: 1000, gainDb: box.lowDb, leftShoulder: false}];
    const below = lowMarkBelow(curve);
    if (below !== undefined && !compact) {
      const gainDb = curve.gainDb[0] ?? 0;
      return [
        {
          text: `${word}: ${nameOf(below)} ${formatQuantity(below.frequencyHz, "Hz")}`,
          frequencyHz: 21,
          gainDb,
          leftShoulder: false,
        },
      ];
    }
    const [mark] = curve.corners;
    if (!mark) return [];
    const where = formatQuantity(mark.frequencyHz, "Hz");
    // There is room for one name, and a key beside the small drawing says which line is now.
    const name = compact ? nameOf(mark) : `${word}: ${nameOf(mark)}`;
    return [{...mark, text: `${name} ${where}`, leftShoulder: mark.kind === "low corner" || mark.kind === "bend"}];
  };
  if (!before || compact) return label("now", now);
  if (coincide(now, before, box)) return label("now and before", now);
  return [...label("now", now), ...label("before", before), ...secondLabel(now)];
}

/** A corner has a fellow where the gain control makes one: alone on the axis, it still says which it is. */
function nameOf({kind, part}: Pick<CurveMark, "kind" | "part">): string {
  if (kind === "peak") return "hump";
  if (kind === "bend" || kind === "highest") return kind;
  return kind === "low corner" && part === "RV1" ? "lower corner" : "corner";
}

/** What a second mark of now is called, where it is a corner: the drawing shows it, so it needs its number as well. */
function secondLabel({corners: [, mark]}: ResponseCurve): readonly Wanted[] {
  if (mark?.kind !== "low corner" || !Number.isFinite(mark.gainDb)) return [];
  return [{...mark, text: `lower corner ${formatQuantity(mark.frequencyHz, "Hz")}`, leftShoulder: true}];
}

/** Whether the first marks of two curves lie so near each other that one label must say it for both. */
function coincide(now: ResponseCurve, before: ResponseCurve, box: PlotBox): boolean {
  const [[a], [b]] = [now.corners, before.corners];
  if (!a || !b || a.kind !== b.kind || lowMarkBelow(now)?.frequencyHz !== lowMarkBelow(before)?.frequencyHz)
    return false;
  const away = [xOf(box, a.frequencyHz) - xOf(box, b.frequencyHz), yOf(box, a.gainDb) - yOf(box, b.gainDb)];
  return formatQuantity(a.frequencyHz, "Hz") === formatQuantity(b.frequencyHz, "Hz") && Math.hypot(...away) < hairPx;
}

/** Nearer than this, in pixels, a reader sees one mark: half of its size. */
const hairPx = 5;
