import {phrasePeaks} from "../../engine/course/stops.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Pair} from "../bench-state/at-rest-works.ts";
import {atLevel, gainOverLevelDb, type LevelCurve} from "../bench-state/level-curve.ts";

/** What the drawings over level show: curves of now and before, and the level at which the bench stands. */
export type LevelView = Readonly<{curves: Pair<LevelCurve>; levelVolts: number}>;

type Axis = Readonly<{low: number; high: number; steps: readonly number[]; text: (value: number) => string}>;

const svg = "http://www.w3.org/2000/svg";
const [width, height] = [300, 252];
const [left, right, top, bottom] = [60, width - 8, 20, height - 46];
const [lowestVolts = 0.01, highestVolts = 1] = [phrasePeaks[0], phrasePeaks.at(-1)];
const spanOfLevels = Math.log(highestVolts / lowestVolts);

/** Peak of the output over the level, both logarithmic: a fixed gain is a slanted straight line. The input itself is dotted. */
export function peakPlot(view: LevelView, document: Document): SVGSVGElement {
  const decibels = (volts: Float64Array) => volts.map((each) => 20 * Math.log10(each));
  const {now, before} = view.curves;
  const rows = [now, before].flatMap((curve) => (curve ? [decibels(curve.outputVolts)] : []));
  const input = now && decibels(now.inputVolts);
  const decades = [-60, -40, -20, 0, 20, 40];
  const axis = axisOver([...rows, ...(input ? [input] : [])], decades, (db) => formatQuantity(10 ** (db / 20), "V"));
  const drawing = frame({name: "Peak of the output over level", corner: "output, peak", axis}, document);
  if (now && input) drawing.curve(now, input, "gain-of-one");
  draw(drawing, view, (curve) => decibels(curve.outputVolts));
  return drawing.root;
}

/** Gain of the stage over the level in decibels, peak over peak. The dotted line is a gain of one: the input itself. */
export function gainPlot(view: LevelView, document: Document): SVGSVGElement {
  const {now, before} = view.curves;
  const rows = [now, before].flatMap((curve) => (curve ? [gainOverLevelDb(curve)] : []));
  const axis = axisOver([...rows, Float64Array.of(-2)], [0, 10, 20, 30, 40], (db) => formatQuantity(db, "dB"));
  const drawing = frame({name: "Gain of the stage over level", corner: "gain", axis}, document);
  if (now) drawing.curve(now, new Float64Array(now.levelVolts.length), "gain-of-one");
  draw(drawing, view, gainOverLevelDb);
  return drawing.root;
}

/** What the curves say from their lowest to their highest level, in one sentence. */
export function levelSentence({now, before}: Pair<LevelCurve>): string {
  if (!now) return "";
  const span = ({outputVolts}: LevelCurve) =>
    formatQuantity(20 * Math.log10((outputVolts.at(-1) ?? 1) / (outputVolts[0] ?? 1)), "dB");
  const [from, to] = [now.levelVolts[0] ?? 0, now.levelVolts.at(-1) ?? 0];
  const was = before ? `, before by ${span(before)}` : "";
  return `From ${formatQuantity(from, "V")} to ${formatQuantity(to, "V")} at the guitar, ${formatQuantity(20 * Math.log10(to / from), "dB")}, the output rises by ${span(now)}${was}.`;
}

function draw(drawing: Frame, {curves, levelVolts}: LevelView, row: (curve: LevelCurve) => Float64Array) {
  drawing.upright(levelVolts);
  for (const name of ["before", "now"] as const) {
    const curve = curves[name];
    if (curve) drawing.curve(curve, row(curve), name);
  }
  for (const name of ["before", "now"] as const) {
    const curve = curves[name];
    if (curve) drawing.marker(levelVolts, atLevel(curve, row(curve), levelVolts), name);
  }
}

/** An axis that holds every row and ends on a third of a step, where `steps` are drawn. */
function axisOver(rows: readonly Float64Array[], steps: readonly number[], text: Axis["text"]): Axis {
  const third = ((steps[1] ?? 0) - (steps[0] ?? 0)) / 3;
  const all = rows.flatMap((row) => [...row]).filter(Number.isFinite);
  const low = Math.floor(Math.min(...all) / third + 1e-9) * third;
  const high = Math.ceil(Math.max(...all) / third - 1e-9) * third;
  return {low, high, steps: steps.filter((step) => step >= low - 1e-9 && step <= high + 1e-9), text};
}

type Frame = ReturnType<typeof frame>;

function frame({name, corner, axis}: Readonly<{name: string; corner: string; axis: Axis}>, document: Document) {
  const root = document.createElementNS(svg, "svg");
  const x = (volts: number) => left + ((right - left) * Math.log(volts / lowestVolts)) / spanOfLevels;
  const y = (value: number) => bottom - ((bottom - top) * (value - axis.low)) / (axis.high - axis.low);
  const add = (tag: string, attributes: Readonly<Record<string, string | number>>, words = "") => {
    const element = document.createElementNS(svg, tag);
    for (const [key, value] of Object.entries(attributes))
      element.setAttribute(key, typeof value === "number" ? value.toFixed(1) : value);
    element.textContent = words;
    root.append(element);
  };
  root.setAttribute("viewBox", `0 0 ${width} ${height}`);
  root.setAttribute("role", "img");
  root.setAttribute("aria-label", name);
  for (const value of axis.steps) {
    add("line", {x1: left, x2: right, y1: y(value), y2: y(value), class: "grid"});
    add("text", {x: left - 6, y: y(value) + 4, class: "tick", "text-anchor": "end"}, axis.text(value));
  }
  for (const volts of phrasePeaks) add("line", {x1: x(volts), x2: x(volts), y1: bottom - 5, y2: bottom, class: "stop"});
  for (const [volts, anchor] of [
    [lowestVolts, "start"],
    [Math.sqrt(lowestVolts * highestVolts), "middle"],
    [highestVolts, "end"],
  ] as const) {
    add("line", {x1: x(volts), x2: x(volts), y1: top, y2: bottom, class: "grid"});
    add("text", {x: x(volts), y: bottom + 18, class: "tick", "text-anchor": anchor}, formatQuantity(volts, "V"));
  }
  add("line", {x1: left, x2: right, y1: bottom, y2: bottom, class: "axis"});
  add("text", {x: left, y: top - 7, class: "tick"}, corner);
  add(
    "text",
    {x: (left + right) / 2, y: bottom + 36, class: "tick", "text-anchor": "middle"},
    "level at the guitar, peak",
  );
  return {
    root,
    upright: (volts: number) => add("line", {x1: x(volts), x2: x(volts), y1: top, y2: bottom, class: "here"}),
    curve({levelVolts}: LevelCurve, row: Float64Array, kind: string) {
      const points = [...row].map((value, k) => `${x(levelVolts[k] ?? 1).toFixed(1)} ${y(value).toFixed(1)}`);
      add("path", {d: `M${points.join("L")}`, class: kind});
    },
    marker(volts: number, value: number, kind: "now" | "before") {
      if (kind === "now") add("circle", {cx: x(volts), cy: y(value), r: "5.5", class: "mark-now"});
      else add("rect", {x: x(volts) - 4.5, y: y(value) - 4.5, width: "9", height: "9", class: "mark-before"});
    },
  };
}
