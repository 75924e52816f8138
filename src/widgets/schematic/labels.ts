import type {Boundary, LabelPlace, Mark, PlacedPart, Probe} from "./drawing.ts";
import {type Box, toPx} from "./geometry.ts";
import {partLayout} from "./part-layout.ts";
import {type Face, textWidth} from "./text-width.ts";
import type {PartView} from "./view.ts";

export const nameSizePx = 13;
export const valueSizePx = 13.5;
const lineHeightPx = 16;
/** Height of capitals and figures above the baseline, for both faces at these sizes. */
const capitalsPx = 9.5;

/** One run of text with its face; a line of a label has one or two. */
export type Run = Readonly<{text: string; face: Face; role: "name" | "value"; index: number}>;
export type LabelLine = Readonly<{runs: readonly Run[]; x: number; baseline: number; anchor: Anchor; box: Box}>;
export type Anchor = "start" | "middle" | "end";

/** The part with the symbol that it has now, where a choice has changed it. */
export const asItStands = (placed: PlacedPart, {symbol}: PartView): PlacedPart => ({
  ...placed,
  symbol: symbol ?? placed.symbol,
});

/** The lines of a part's label, placed beside its body and never moved by what they say. */
export function labelLines(given: PlacedPart, part: PartView): readonly LabelLine[] {
  const placed = asItStands(given, part);
  const {label} = placed;
  const name: readonly Run[] =
    label.nameless || part.shown === "" ? [] : [{text: part.shown, face: "label", role: "name", index: 0}];
  const values = label.valueless
    ? []
    : part.values.map((text, index): Run => ({text, face: "serif", role: "value", index}));
  const [firstValue, ...otherValues] = values;
  const lines =
    label.inline && firstValue
      ? [[...name, firstValue], ...otherValues.map((run) => [run])]
      : [...name, ...values].map((run) => [run]);
  return placedLines(lines, anchorOf(placed, label, lines.length));
}

type Start = Readonly<{x: number; baseline: number; anchor: Anchor}>;

function anchorOf(placed: PlacedPart, {side, shift = [0, 0]}: LabelPlace, count: number): Start {
  const {body, centre} = partLayout(placed);
  const middle = (body.left + body.right) / 2;
  const depth = (count - 1) * lineHeightPx;
  const beside = centre.y - depth / 2 + capitalsPx / 2;
  const lowest = toPx(placed.at.at(-1) ?? [0, 0]);
  const start: Readonly<Record<LabelPlace["side"], Start>> = {
    above: {x: middle, baseline: body.top - 7 - depth, anchor: "middle"},
    below: {x: middle, baseline: body.bottom + 7 + capitalsPx, anchor: "middle"},
    inside: {x: body.left + 18, baseline: beside, anchor: "start"},
    left: {x: body.left - 8, baseline: beside, anchor: "end"},
    right: {x: body.right + 8, baseline: beside, anchor: "start"},
    under: {x: lowest.x, baseline: lowest.y + groundDepthPx + 7 + capitalsPx, anchor: "middle"},
  };
  const {x, baseline, anchor} = start[side];
  return {x: x + shift[0], baseline: baseline + shift[1], anchor};
}

function placedLines(lines: readonly (readonly Run[])[], start: Start): readonly LabelLine[] {
  return lines.map((runs, index): LabelLine => {
    const baseline = start.baseline + index * lineHeightPx;
    return {...start, runs, baseline, box: textBox(widthOf(runs), start, baseline)};
  });
}

const widthOf = (runs: readonly Run[]): number =>
  runs.reduce((sum, {text, face}) => sum + textWidth(text, face, face === "serif" ? valueSizePx : nameSizePx), 0) +
  (runs.length - 1) * runGapPx;

/** The space between name and value on one line. */
export const runGapPx = 5;

function textBox(width: number, {x, anchor}: Start, baseline: number): Box {
  const left = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
  return {left, right: left + width, top: baseline - capitalsPx, bottom: baseline + 3};
}

/** From a ground's terminal to its lowest stroke. */
export const groundDepthPx = 15;

/** A plain line of label text: captions, ends, boundary titles, probed voltages. */
export const plainLine = (
  text: string,
  x: number,
  baseline: number,
  anchor: Anchor,
  face: Face = "label",
): LabelLine => ({
  runs: [{text, face, role: face === "serif" ? "value" : "name", index: 0}],
  x,
  baseline,
  anchor,
  box: textBox(textWidth(text, face, face === "serif" ? valueSizePx : nameSizePx), {x, baseline, anchor}, baseline),
});

/** The text of a mark, or nothing where its symbol says enough. */
export function markLine({kind, at, text, side = "middle"}: Mark): LabelLine | undefined {
  if (text === undefined) return undefined;
  const {x, y} = toPx(at);
  if (kind === "supply") return plainLine(text, x, y - 14, "middle");
  if (kind === "reference") return plainLine(text, x, y + 12 + 7 + capitalsPx, "middle");
  const anchor = side === "left" ? "start" : side === "right" ? "end" : "middle";
  return plainLine(text, side === "left" ? x - 4 : side === "right" ? x + 4 : x, y - 10, anchor);
}

/** The frame of a housing. */
export const boundaryBox = ({from, to}: Boundary): Box => {
  const a = toPx(from);
  const b = toPx(to);
  return {left: a.x, top: a.y, right: b.x, bottom: b.y};
};

/** A housing's title, in its top left corner. */
export function boundaryTitle({title, from}: Boundary): LabelLine {
  const {x, y} = toPx(from);
  return plainLine(title, x + 9, y + 19, "start");
}

/** The voltage at a probed node, or nothing where the view does not know it. */
export function probeLine(
  {node, at, side}: Probe,
  volts: ReadonlyMap<string, string> | undefined,
): LabelLine | undefined {
  const text = volts?.get(node);
  if (text === undefined) return undefined;
  const {x, y} = toPx(at);
  return plainLine(text, x, y, side === "left" ? "start" : side === "right" ? "end" : "middle", "serif");
}
