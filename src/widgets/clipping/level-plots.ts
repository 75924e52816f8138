import {phrasePeaks} from "../../engine/course/stops.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Pair} from "../bench-state/at-rest-works.ts";
import {atLevel, gainOverLevelDb, type LevelCurve} from "../bench-state/level-curve.ts";
import {path, shape, type Shape, type Sketch} from "../sketch/sketch.ts";

/** What the drawings over level show: curves of now and before, and the level at which the bench stands. */
export type LevelView = Readonly<{curves: Pair<LevelCurve>; levelVolts: number}>;

type Axis = Readonly<{low: number; high: number; steps: readonly number[]; text: (value: number) => string}>;

const [width, height] = [300, 252];
const [left, right, top, bottom] = [60, width - 8, 20, height - 46];
const [lowestVolts = 0.01, highestVolts = 1] = [phrasePeaks[0], phrasePeaks.at(-1)];
const spanOfLevels = Math.log(highestVolts / lowestVolts);

/**
 * Half the swing of the output over the level, both logarithmic: a fixed gain is a slanted straight line. The input itself is
 * dotted. A wave whose halves are alike has half its swing as its peak.
 */
export function peakPlot(view: LevelView): Sketch {
  const decibels = (volts: Float64Array) => volts.map((each) => 20 * Math.log10(each));
  const {now, before} = view.curves;
  const rows = [now, before].flatMap((curve) => (curve ? [decibels(curve.outputVolts)] : []));
  const input = now && decibels(now.inputVolts);
  const decades = [-60, -40, -20, 0, 20, 40];
  const axis = axisOver([...rows, ...(input ? [input] : [])], decades, (db) => formatQuantity(10 ** (db / 20), "V"));
  const drawing = frame({name: "Half of the output's swing over level", corner: "output, half of peak to peak", axis});
  const one = now && input ? [drawing.curve(now, input, "gain-of-one")] : [];
  return sketched(drawing, one, view, (curve) => decibels(curve.outputVolts));
}

/** Gain of the stage over the level in decibels, swing over swing. The dotted line is a gain of one: the input itself. */
export function gainPlot(view: LevelView): Sketch {
  const {now, before} = view.curves;
  const rows = [now, before].flatMap((curve) => (curve ? [gainOverLevelDb(curve)] : []));
  const axis = axisOver([...rows, Float64Array.of(-2)], [0, 10, 20, 30, 40], (db) => formatQuantity(db, "dB"));
  const drawing = frame({name: "Gain of the stage over level", corner: "gain", axis});
  const one = now ? [drawing.curve(now, new Float64Array(now.levelVolts.length), "gain-of-one")] : [];
  return sketched(drawing, one, view, gainOverLevelDb);
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

function sketched(
  {curve: curveOf, upright, marker, ...sketch}: Frame,
  one: readonly Shape[],
  {curves, levelVolts}: LevelView,
  row: (curve: LevelCurve) => Float64Array,
): Sketch {
  const both = (["before", "now"] as const).flatMap((kind) => {
    const curve = curves[kind];
    return curve ? [{kind, curve, values: row(curve)}] : [];
  });
  return {
    ...sketch,
    moving: [
      upright(levelVolts),
      ...one,
      ...both.map(({kind, curve, values}) => curveOf(curve, values, kind)),
      ...both.map(({kind, curve, values}) => marker(levelVolts, atLevel(curve, values, levelVolts), kind)),
    ],
  };
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

function frame({name, corner, axis}: Readonly<{name: string; corner: string; axis: Axis}>) {
  const x = (volts: number) => left + ((right - left) * Math.log(volts / lowestVolts)) / spanOfLevels;
  const y = (value: number) => bottom - ((bottom - top) * (value - axis.low)) / (axis.high - axis.low);
  const upright = (volts: number, kind: string, from = top) =>
    shape("line", {x1: x(volts), x2: x(volts), y1: from, y2: bottom, class: kind});
  const fixed: Shape[] = axis.steps.flatMap((value) => [
    shape("line", {x1: left, x2: right, y1: y(value), y2: y(value), class: "grid"}),
    shape("text", {x: left - 6, y: y(value) + 4, class: "tick", "text-anchor": "end"}, axis.text(value)),
  ]);
  for (const volts of phrasePeaks) fixed.push(upright(volts, "stop", bottom - 5));
  for (const [volts, anchor] of [
    [lowestVolts, "start"],
    [Math.sqrt(lowestVolts * highestVolts), "middle"],
    [highestVolts, "end"],
  ] as const) {
    const tick = {x: x(volts), y: bottom + 18, class: "tick", "text-anchor": anchor};
    fixed.push(upright(volts, "grid"), shape("text", tick, formatQuantity(volts, "V")));
  }
  const across = {x: (left + right) / 2, y: bottom + 36, class: "tick", "text-anchor": "middle"};
  fixed.push(
    shape("line", {x1: left, x2: right, y1: bottom, y2: bottom, class: "axis"}),
    shape("text", {x: left, y: top - 7, class: "tick"}, corner),
    shape("text", across, "level at the guitar, peak"),
  );
  return {
    ...{width, height, name, axes: `${axis.low} to ${axis.high}`, fixed},
    upright: (volts: number) => upright(volts, "here"),
    curve: ({levelVolts}: LevelCurve, row: Float64Array, kind: string) =>
      path(
        [...row].map((value, k) => [x(levelVolts[k] ?? 1), y(value)]),
        kind,
      ),
    marker: (volts: number, value: number, kind: "now" | "before") =>
      kind === "now"
        ? shape("circle", {cx: x(volts), cy: y(value), r: 5.5, class: "mark-now"})
        : shape("rect", {x: x(volts) - 4.5, y: y(value) - 4.5, width: 9, height: 9, class: "mark-before"}),
  };
}
