import type {ResponseCurve} from "../bench-state/curves.ts";
import {xOf, yOf, type PlotBox} from "./plot-box.ts";

/** A label to be placed beside a mark. */
export type Wanted = Readonly<{text: string; frequencyHz: number; gainDb: number; leftShoulder: boolean}>;

/** A label with its place: the middle of its text, in pixels of the drawing. */
export type Placed = Readonly<{text: string; x: number; y: number; width: number}>;

const lineHeight = 15;
/** How far the ticks of the open strings, and what air they need, reach up from the lower edge, in pixels. */
const ticksPx = 8;
/** Radius of the ring round a marker, in pixels. */
export const ringPx = 11;

/** Width of a label in the label face at 12.5 px: a safe estimate, the widest of its characters taken as the rule. */
export const labelWidth = (text: string) => text.length * 6.9;

/**
 * Places labels one after the other where they touch no curve, no other label and no edge: above a left shoulder or a
 * peak first, below a right shoulder first, then wherever there is room. Where nothing is free the least bad place is
 * taken, but never one that covers another label.
 */
export function placeLabels(
  wanted: readonly Wanted[],
  curves: readonly ResponseCurve[],
  box: PlotBox,
): readonly Placed[] {
  const pixels = curves.map((curve) => pixelsOf(curve, box));
  const placed: Placed[] = [];
  for (const label of wanted) {
    const width = labelWidth(label.text);
    const best = candidates(label, width, box)
      .filter((place) => placed.every((other) => !overlap(place, other)))
      .map((place) => ({
        place,
        cost:
          crossings(place, pixels) +
          zeroLineCost * Number(onZeroLine(place, box)) +
          betweenCost * between(place, label, pixels, box) +
          ringCost * rings(place, curves, box) +
          far(place, label, box),
      }))
      .reduce<{place: Placed; cost: number} | undefined>(
        (least, each) => (least && least.cost <= each.cost ? least : each),
        undefined,
      );
    if (best) placed.push(best.place);
  }
  return placed;
}

function candidates({text, frequencyHz, gainDb, leftShoulder}: Wanted, width: number, box: PlotBox): readonly Placed[] {
  const [x, y] = [xOf(box, frequencyHz), yOf(box, gainDb)];
  const side = width / 2 + ringPx + 3;
  const offsets = leftShoulder
    ? [
        [-side, -6],
        [0, -20],
        [side, 8],
        [side, -6],
      ]
    : [
        [0, -20],
        [-side, -2],
        [side, -2],
        [0, 22],
      ];
  const further = [30, 46, 62, 78, 94].flatMap((down) => [
    [-side, down],
    [0, down],
    [-side, -down],
    [side, down],
    [0, -down],
  ]);
  const inside = ({x: at, y: line}: Placed) =>
    at - width / 2 >= box.left + 2 && at + width / 2 <= box.right && line - 8 >= 2 && line + 8 <= box.bottom - ticksPx;
  const places = [...offsets, ...further].map(([dx = 0, dy = 0]) => ({text, width, x: x + dx, y: y + dy}));
  const held = places.map((place) => ({
    ...place,
    x: Math.min(box.right - width / 2, Math.max(box.left + 2 + width / 2, place.x)),
  }));
  const rest = anywhere(box).map(([column, row]) => ({text, width, x: column, y: row}));
  return [...places, ...held, ...rest].filter(inside);
}

/** Middles of a coarse grid over the drawing, for a label that finds no room beside its mark. */
function anywhere({left, right, top, bottom}: PlotBox): readonly (readonly [number, number])[] {
  const columns = Array.from({length: 13}, (_, k) => left + ((right - left) * k) / 12);
  const rows = Array.from({length: 9}, (_, k) => top + ((bottom - top) * k) / 8);
  return rows.flatMap((row) => columns.map((column) => [column, row] as const));
}

/** What a label costs for lying far from its mark: a point of a curve under it for every sixth of the drawing's height. */
function far({x, y}: Placed, {frequencyHz, gainDb}: Wanted, box: PlotBox): number {
  const away = Math.hypot(x - xOf(box, frequencyHz), y - yOf(box, gainDb));
  return Math.max(0, away - box.height / 3) / (box.height / 6);
}

/** Whether two labels cover each other. */
export const overlap = (a: Placed, b: Placed) =>
  Math.abs(a.x - b.x) < (a.width + b.width) / 2 + 4 && Math.abs(a.y - b.y) < lineHeight;

type Pixels = Readonly<{x: Float64Array; y: Float64Array}>;

export const pixelsOf = ({frequenciesHz, gainDb}: ResponseCurve, box: PlotBox): Pixels => ({
  x: frequenciesHz.map((hz) => xOf(box, hz)),
  y: gainDb.map((db) => yOf(box, db)),
});

/** A ring under a label costs more than any curve through it: it is what the label points at. */
const ringCost = 100;

/** How many markers of the curves lie under a label, rings included. */
export function rings({x, y, width}: Placed, curves: readonly ResponseCurve[], box: PlotBox): number {
  const marks = curves.flatMap(({corners}) => corners.slice(0, 2));
  return marks.filter(
    ({frequencyHz, gainDb}) =>
      Math.abs(xOf(box, frequencyHz) - x) < width / 2 + ringPx &&
      Math.abs(yOf(box, gainDb) - y) < lineHeight / 2 + ringPx - 2,
  ).length;
}

/** The line of 0 dB is darker than the grid and strikes a label through: worse than a label further off, better than a curve. */
const zeroLineCost = 10;

/** Whether the line of 0 dB runs through a label. */
export const onZeroLine = ({y}: Placed, box: PlotBox) => Math.abs(yOf(box, 0) - y) < lineHeight / 2 + 1;

/** A label with a strange curve between it and its mark seems to speak of that curve. */
const betweenCost = 60;

/** How many curves lie between a label and its mark; the curve of the mark itself does not count. */
export function between(
  {x, y}: Placed,
  {frequencyHz, gainDb}: Wanted,
  curves: readonly Pixels[],
  box: PlotBox,
): number {
  const [markX, markY] = [xOf(box, frequencyHz), yOf(box, gainDb)];
  return curves.filter((curve) => {
    const atMark = markY - heightAt(curve, markX);
    return Math.abs(atMark) > hairPx && atMark * (y - heightAt(curve, x)) < 0;
  }).length;
}

/** Nearer to a curve than this, in pixels, a mark is on it. */
const hairPx = 3;

/** Height of a curve in pixels at the point nearest to `x`. */
function heightAt(curve: Pixels, x: number): number {
  const next = curve.x.findIndex((each) => each >= x);
  return curve.y.at(next) ?? Number.NaN;
}

/** How many points of the curves run through a label. */
function crossings({x, y, width}: Placed, curves: readonly Pixels[]): number {
  let count = 0;
  for (const curve of curves) {
    for (let k = 0; k < curve.x.length; k++) {
      if (Math.abs((curve.x[k] ?? 0) - x) > width / 2 + 2) continue;
      if (Math.abs((curve.y[k] ?? 0) - y) < lineHeight / 2 + 3) count++;
    }
  }
  return count;
}
