import {junctionsOf, terminalsOf} from "./connections.ts";
import {type GridPoint, gridPx, type Mark, type PlacedPart} from "./drawing.ts";
import {joined, liesOn, same, type Segment, segmentsOf, toPx} from "./geometry.ts";
import {
  asItStands,
  type LabelLine,
  boundaryBox,
  boundaryTitle,
  labelLines,
  markLine,
  plainLine,
  probeLine,
} from "./labels.ts";
import {partLayout} from "./part-layout.ts";
import {bodyPaths, wiperPath} from "./part-paths.ts";
import {type SchematicView, spokenPart} from "./view.ts";

type Options = Readonly<{
  /** The page's document, or linkedom's while the site is built. */
  document: Document;
  /** Id of the element that describes the circuit in words. */
  describedBy?: string;
}>;

const namespace = "http://www.w3.org/2000/svg";

/**
 * The circuit fragment of a lesson as an SVG drawn in CSS pixels, for both kinds of resistor symbol.
 *
 * Each part is a group named by `data-ref` (`data-lit` marks the part in hand); its grip is what a reader focuses and
 * presses, one of them in the tab order. Values and labels never move anything else.
 *
 * @throws {RangeError} if the drawing places a part that the view does not know
 */
export function schematicFragment(view: SchematicView, {document, describedBy}: Options): SVGSVGElement {
  const draw = brush(document);
  const {drawing, partInHand} = view;
  const [width, height] = drawing.size.map((steps) => steps * gridPx) as [number, number];
  const quiet = quietPlaces(view);
  const tone = (...points: readonly GridPoint[]) => (quiet(points) ? " earlier" : "");
  const first = drawing.parts.some(({ref}) => ref === partInHand) ? partInHand : drawing.parts[0]?.ref;

  const svg = draw("svg", {
    class: `schematic-drawing ${view.size}`,
    viewBox: `0 0 ${width} ${height}`,
    width,
    height,
    role: "group",
    "aria-label": drawing.title,
    ...(describedBy ? {"aria-describedby": describedBy} : {}),
  }) as SVGSVGElement;

  for (const boundary of drawing.boundaries ?? []) {
    const {left, top, right, bottom} = boundaryBox(boundary);
    svg.append(draw("rect", {class: "boundary", x: left, y: top, width: right - left, height: bottom - top, rx: 5}));
    svg.append(draw.line("boundary-title", boundaryTitle(boundary)));
  }
  for (const wire of drawing.wires) svg.append(draw("path", {class: `wire${tone(...wire)}`, d: pathThrough(wire)}));
  for (const mark of drawing.marks) {
    svg.append(draw("path", {class: `mark ${mark.kind}${tone(mark.at)}`, d: markPath(mark)}));
    const line = markLine(mark);
    if (line) svg.append(draw.line("mark-text", line));
  }
  for (const {x, y} of junctionsOf(drawing)) {
    svg.append(draw("circle", {class: `junction${tone([x / gridPx, y / gridPx])}`, cx: x, cy: y, r: 3.5}));
  }
  for (const {text, at} of drawing.captions ?? []) {
    const {x, y} = toPx(at);
    svg.append(draw.line("caption", plainLine(text, x, y, "middle")));
  }
  for (const placed of drawing.parts) svg.append(partGroup(draw, view, placed, placed.ref === first));
  for (const jack of drawing.jacks ?? []) {
    const {x, y} = toPx(jack);
    svg.append(draw("circle", {class: `jack${tone(jack)}`, cx: x, cy: y, r: 4}));
  }
  for (const probe of drawing.probes ?? []) {
    const line = probeLine(probe, view.volts);
    if (line) svg.append(draw.line("volts", line, {"data-node": probe.node}));
  }
  return svg;
}

function partGroup(draw: Brush, view: SchematicView, given: PlacedPart, inTabOrder: boolean): Element {
  const part = view.parts.get(given.ref);
  if (!part) throw new RangeError(`${given.ref}: drawn, but not in the circuit of lesson ${view.lesson}`);
  const placed = asItStands(given, part);
  const layout = partLayout(placed);
  const lines = labelLines(placed, part);
  const group = draw("g", {
    class: `part ${part.earlier ? "earlier" : "added"}${part.lifted ? " lifted" : ""}`,
    "data-ref": placed.ref,
    ...(placed.ref === view.partInHand || view.alsoInHand.includes(placed.ref) ? {"data-lit": ""} : {}),
  });
  const grip = draw("g", {
    class: "grip",
    tabindex: inTabOrder ? 0 : -1,
    role: "button",
    "aria-label": spokenPart(part),
  });
  const {left, top, right, bottom} = joined([layout.body, ...lines.map(({box}) => box)]);
  const plate = {x: left - 5, y: top - 5, width: right - left + 10, height: bottom - top + 10, rx: 5};
  grip.append(draw("rect", {class: "plate", ...plate}));
  grip.append(draw("path", {class: "leads", d: layout.leads.map(legPath).join("")}));
  for (const {d, role, transform} of bodyPaths(placed, layout))
    grip.append(draw("path", {class: role, d, ...(transform ? {transform} : {})}));
  if (layout.wiper) grip.append(draw("path", {class: "wiper", d: wiperPath(layout, part.position ?? 0.5)}));
  group.append(grip);
  // The grip says both in words: "33 nanofarads" is spoken the same everywhere, "nF" is not.
  for (const line of lines) group.append(draw.line("label", line, {"aria-hidden": "true"}));
  return group;
}

type Attributes = Readonly<Record<string, string | number>>;
type Brush = ((name: string, attributes: Attributes) => Element) & {
  line: (className: string, line: LabelLine, attributes?: Attributes) => Element;
};

function brush(document: Document): Brush {
  const draw = (name: string, attributes: Attributes): Element => {
    const element = document.createElementNS(namespace, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
    return element;
  };
  const line = (className: string, {runs, x, baseline, anchor}: LabelLine, attributes: Attributes = {}): Element => {
    const place = {x: round(x), y: round(baseline), ...(anchor === "start" ? {} : {"text-anchor": anchor})};
    const text = draw("text", {class: className, ...place, ...attributes});
    for (const [order, run] of runs.entries()) {
      const span = draw("tspan", {class: run.role, ...(order > 0 ? {dx: 5} : {})});
      if (run.role === "value") span.setAttribute("data-line", String(run.index));
      span.textContent = run.text;
      text.append(span);
    }
    return text;
  };
  return Object.assign(draw, {line});
}

const round = (px: number) => Math.round(px * 4) / 4;

const legPath = ([a, b]: Segment) => (a.x === b.x && a.y === b.y ? "" : `M${a.x} ${a.y}L${b.x} ${b.y}`);

const pathThrough = (wire: readonly (readonly [number, number])[]) =>
  wire
    .map(toPx)
    .map(({x, y}, index) => `${index === 0 ? "M" : "L"}${x} ${y}`)
    .join("");

function markPath({kind, at, side}: Mark): string {
  const {x, y} = toPx(at);
  if (kind === "ground") return `M${x} ${y}v6M${x - 8} ${y + 6}h16M${x - 5} ${y + 10}h10M${x - 2} ${y + 14}h4`;
  if (kind === "reference") return `M${x} ${y}v8M${x - 8} ${y + 8}h16`;
  if (kind === "supply") return `M${x} ${y}v-8M${x - 8} ${y - 8}h16`;
  return side === "right" ? `M${x - 5} ${y - 4.5}L${x} ${y}L${x - 5} ${y + 4.5}` : "";
}

/** Tells which places of the drawing carry nothing but parts of earlier lessons and wires between them. */
function quietPlaces({drawing, parts}: SchematicView): (points: readonly GridPoint[]) => boolean {
  const added = terminalsOf(drawing).filter(({ref}) => parts.get(ref)?.earlier === false);
  const touchesAdded = (wire: readonly GridPoint[]) =>
    segmentsOf(wire).some((segment) => added.some(({point}) => liesOn(point, segment)));
  const inked = drawing.wires.filter(touchesAdded).flatMap(segmentsOf);
  return (points) =>
    points.length > 1
      ? !touchesAdded(points)
      : points
          .map(toPx)
          .every(
            (place) => !added.some(({point}) => same(point, place)) && !inked.some((segment) => liesOn(place, segment)),
          );
}
