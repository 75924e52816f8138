import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {halfSwing, type Cycle} from "../bench-state/cycles.ts";
import {path, shape, type Shape, type Sketch} from "../sketch/sketch.ts";

/** What the two drawings of a cycle show: the bench now, and before where it has a gain stage, both under the same input. */
export type CycleView = Readonly<{now: Cycle; before?: Cycle | undefined}>;

type Point = readonly [number, number];

const [width, height] = [300, 236];
const [left, right, top, bottom] = [60, width - 8, 20, height - 30];

/** Output over input through one cycle, now solid over before dashed, with the line that a gain of one would draw. */
export function transferPlot({now, before}: CycleView): Sketch {
  const high = highest({now, before});
  const wide = niceAbove(halfSwing(now.input));
  const {curve, ...sketch} = frame("Output over input through one cycle", {wide, high, across: "input"});
  const loop = ({input, output}: Cycle) =>
    [...input, input[0] ?? 0].map((x, k): Point => [x, output[k] ?? output[0] ?? 0]);
  const reach = Math.min(wide, high);
  const one = curve(
    [
      [-reach, -reach],
      [reach, reach],
    ],
    "gain-of-one",
  );
  return {...sketch, moving: [one, ...(before ? [curve(loop(before), "before")] : []), curve(loop(now), "now")]};
}

/** Output over time through one cycle, now solid over before dashed. */
export function wavePlot({now, before}: CycleView): Sketch {
  const high = highest({now, before});
  const {curve, ...sketch} = frame("Output through one cycle", {wide: 1, high, across: "one cycle"});
  const wave = (volts: Float64Array) =>
    [...volts, volts[0] ?? 0].map((each, k): Point => [(2 * k) / volts.length - 1, each]);
  return {
    ...sketch,
    moving: [
      curve(wave(now.input), "gain-of-one"),
      ...(before ? [curve(wave(before.output), "before")] : []),
      curve(wave(now.output), "now"),
    ],
  };
}

/** The smallest of 1, 2, 3, 5, 10 … that is not below `value`; 1 mV for silence. */
export function niceAbove(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(Math.max(value, 1e-3)) + 1e-9);
  return decade * ([1, 2, 3, 5, 10].find((step) => step * decade >= value * (1 - 1e-9)) ?? 10);
}

const highest = ({now, before}: CycleView) =>
  niceAbove(Math.max(...[now, before].map((cycle) => (cycle ? Math.max(...cycle.output.map(Math.abs)) : 0))));

type Axes = Readonly<{wide: number; high: number; across: string}>;

function frame(name: string, {wide, high, across}: Axes) {
  const x = (value: number) => left + ((value / wide + 1) / 2) * (right - left);
  const y = (value: number) => bottom - ((value / high + 1) / 2) * (bottom - top);
  const fixed: Shape[] = [];
  for (const share of [-1, -0.5, 0, 0.5, 1]) {
    const kind = share === 0 ? "axis" : "grid";
    fixed.push(shape("line", {x1: left, x2: right, y1: y(share * high), y2: y(share * high), class: kind}));
    fixed.push(shape("line", {x1: x(share * wide), x2: x(share * wide), y1: top, y2: bottom, class: kind}));
    if (share % 1 !== 0) continue;
    const at = {x: left - 6, y: y(share * high) + 4, class: "tick", "text-anchor": "end"};
    fixed.push(shape("text", at, share === 0 ? "0" : formatQuantity(share * high, "V")));
  }
  const under = (place: number, anchor: string, words: string) =>
    fixed.push(shape("text", {x: place, y: bottom + 18, class: "tick", "text-anchor": anchor}, words));
  if (across === "one cycle") under((left + right) / 2, "middle", "one cycle");
  else {
    under(left, "start", formatQuantity(-wide, "V"));
    under((left + right) / 2, "middle", across);
    under(right, "end", formatQuantity(wide, "V"));
  }
  fixed.push(shape("text", {x: left, y: top - 7, class: "tick"}, "output"));
  const curve = (points: readonly Point[], kind: string) =>
    path(
      points.map(([a, b]) => [x(a), y(b)]),
      kind,
    );
  return {width, height, name, axes: `${across} ${wide} ${high}`, fixed, curve};
}
