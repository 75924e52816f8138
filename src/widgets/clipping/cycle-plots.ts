import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {halfSwing, type Cycle} from "../bench-state/cycles.ts";

/** What the two drawings of a cycle show: the bench now, and before where it has a gain stage, both under the same input. */
export type CycleView = Readonly<{now: Cycle; before?: Cycle | undefined}>;

type Point = readonly [number, number];

const svg = "http://www.w3.org/2000/svg";
const [width, height] = [300, 236];
const [left, right, top, bottom] = [60, width - 8, 20, height - 30];

/** Output over input through one cycle, now solid over before dashed, with the line that a gain of one would draw. */
export function transferPlot({now, before}: CycleView, document: Document): SVGSVGElement {
  const high = highest({now, before});
  const wide = niceAbove(halfSwing(now.input));
  const drawing = frame("Output over input through one cycle", {wide, high, across: "input"}, document);
  const loop = ({input, output}: Cycle) =>
    [...input, input[0] ?? 0].map((x, k): Point => [x, output[k] ?? output[0] ?? 0]);
  const reach = Math.min(wide, high);
  drawing.curve(
    [
      [-reach, -reach],
      [reach, reach],
    ],
    "gain-of-one",
  );
  if (before) drawing.curve(loop(before), "before");
  drawing.curve(loop(now), "now");
  return drawing.root;
}

/** Output over time through one cycle, now solid over before dashed. */
export function wavePlot({now, before}: CycleView, document: Document): SVGSVGElement {
  const drawing = frame(
    "Output through one cycle",
    {wide: 1, high: highest({now, before}), across: "one cycle"},
    document,
  );
  const wave = ({output}: Cycle) =>
    [...output, output[0] ?? 0].map((volts, k): Point => [(2 * k) / output.length - 1, volts]);
  drawing.curve(
    wave(now).map(([x], k): Point => [x, now.input[k] ?? now.input[0] ?? 0]),
    "gain-of-one",
  );
  if (before) drawing.curve(wave(before), "before");
  drawing.curve(wave(now), "now");
  return drawing.root;
}

/** The smallest of 1, 2, 3, 5, 10 … that is not below `value`; 1 mV for silence. */
export function niceAbove(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(Math.max(value, 1e-3)) + 1e-9);
  return decade * ([1, 2, 3, 5, 10].find((step) => step * decade >= value * (1 - 1e-9)) ?? 10);
}

const highest = ({now, before}: CycleView) =>
  niceAbove(Math.max(...[now, before].map((cycle) => (cycle ? Math.max(...cycle.output.map(Math.abs)) : 0))));

type Axes = Readonly<{wide: number; high: number; across: string}>;

function frame(name: string, {wide, high, across}: Axes, document: Document) {
  const root = document.createElementNS(svg, "svg");
  const x = (value: number) => left + ((value / wide + 1) / 2) * (right - left);
  const y = (value: number) => bottom - ((value / high + 1) / 2) * (bottom - top);
  const add = (tag: string, attributes: Readonly<Record<string, string>>, words = "") => {
    const element = document.createElementNS(svg, tag);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.textContent = words;
    root.append(element);
  };
  root.setAttribute("viewBox", `0 0 ${width} ${height}`);
  root.setAttribute("role", "img");
  root.setAttribute("aria-label", name);
  for (const share of [-1, -0.5, 0, 0.5, 1]) {
    const kind = share === 0 ? "axis" : "grid";
    add("line", {
      x1: pixels(left),
      x2: pixels(right),
      y1: pixels(y(share * high)),
      y2: pixels(y(share * high)),
      class: kind,
    });
    add("line", {
      x1: pixels(x(share * wide)),
      x2: pixels(x(share * wide)),
      y1: pixels(top),
      y2: pixels(bottom),
      class: kind,
    });
    if (share % 1 === 0) {
      const at = {x: pixels(left - 6), y: pixels(y(share * high) + 4), class: "tick", "text-anchor": "end"};
      add("text", at, share === 0 ? "0" : formatQuantity(share * high, "V"));
    }
  }
  const under = (place: number, anchor: string, words: string) =>
    add("text", {x: pixels(place), y: pixels(bottom + 18), class: "tick", "text-anchor": anchor}, words);
  if (across === "one cycle") under((left + right) / 2, "middle", "one cycle");
  else {
    under(left, "start", formatQuantity(-wide, "V"));
    under((left + right) / 2, "middle", across);
    under(right, "end", formatQuantity(wide, "V"));
  }
  add("text", {x: pixels(left), y: pixels(top - 7), class: "tick"}, "output");
  const curve = (points: readonly Point[], kind: string) =>
    add("path", {d: `M${points.map(([a, b]) => `${pixels(x(a))} ${pixels(y(b))}`).join("L")}`, class: kind});
  return {root, curve};
}

const pixels = (place: number) => place.toFixed(1);
