import type {Mark} from "./drawing.ts";
import {type Box, boxAround, lineBox, type Segment, segmentsOf, toPx} from "./geometry.ts";
import {
  asItStands,
  boundaryTitle,
  groundDepthPx,
  type LabelLine,
  labelLines,
  markLine,
  plainLine,
  probeLine,
} from "./labels.ts";
import {partLayout, wiperTravelPx} from "./part-layout.ts";
import type {SchematicView} from "./view.ts";

export type Named = Readonly<{what: string; box: Box}>;

/** The space that strokes take and the space that words take, for a test that none of them collide. */
export function occupiedSpace(view: SchematicView): Readonly<{strokes: readonly Named[]; words: readonly Named[]}> {
  const {drawing} = view;
  const strokes = [
    ...drawing.parts.flatMap((placed) => {
      const part = view.parts.get(placed.ref);
      const {body, leads, wiper} = partLayout(part ? asItStands(placed, part) : placed);
      const lines = wiper ? [...leads, ...wiperLegs(wiper)] : leads;
      return [
        {what: placed.ref, box: body},
        ...lines.map((lead) => ({what: `lead of ${placed.ref}`, box: lineBox(lead)})),
      ];
    }),
    ...drawing.wires.flatMap((wire) =>
      segmentsOf(wire).map((leg) => ({what: `wire ${wire.join(" ")}`, box: lineBox(leg)})),
    ),
    ...drawing.marks.map((mark) => ({what: `${mark.kind} ${mark.at.join()}`, box: markBox(mark)})),
    ...(drawing.jacks ?? []).map((jack) => ({what: `jack ${jack.join()}`, box: boxAround(toPx(jack), 4.5, 4.5)})),
  ];
  return {strokes, words: wordsOf(view)};
}

/** All the room a wiper may take between the two ends of its track. */
function wiperLegs([terminal, tip]: Segment): readonly Segment[] {
  const ends = [tip.y - wiperTravelPx, tip.y + wiperTravelPx];
  return [
    [terminal, {x: terminal.x, y: ends[1] ?? tip.y}],
    ...ends.map((y): Segment => [
      {x: terminal.x, y},
      {x: tip.x, y},
    ]),
  ];
}

function markBox({kind, at}: Mark): Box {
  const {x, y} = toPx(at);
  if (kind === "end") return boxAround({x, y}, 3, 3);
  if (kind === "supply") return {left: x - 9, right: x + 9, top: y - 9, bottom: y};
  return {left: x - 9, right: x + 9, top: y, bottom: y + (kind === "ground" ? groundDepthPx : 10)};
}

function wordsOf({drawing, parts, volts}: SchematicView): readonly Named[] {
  const line = (what: string, {box}: LabelLine): Named => ({what, box});
  return [
    ...drawing.parts.flatMap((placed) => {
      const part = parts.get(placed.ref);
      return part ? labelLines(placed, part).map((one) => line(`label of ${placed.ref}`, one)) : [];
    }),
    ...drawing.marks.flatMap((mark) => {
      const one = markLine(mark);
      return one ? [line(`"${mark.text}"`, one)] : [];
    }),
    ...(drawing.captions ?? []).map(({text, at}) => {
      const {x, y} = toPx(at);
      return line(`"${text}"`, plainLine(text, x, y, "middle"));
    }),
    ...(drawing.boundaries ?? []).map((boundary) => line(`"${boundary.title}"`, boundaryTitle(boundary))),
    ...(drawing.probes ?? []).flatMap((probe) => {
      const one = probeLine(probe, volts);
      return one ? [line(`volts at ${probe.node}`, one)] : [];
    }),
  ];
}
