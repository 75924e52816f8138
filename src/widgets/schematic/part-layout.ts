import type {PlacedPart} from "./drawing.ts";
import {type Box, boxAround, joined, type Point, type Segment, toPx} from "./geometry.ts";
import {type SymbolShape, symbols} from "./symbols.ts";

/** Where a part's strokes go. `turn` is the angle of its axis in degrees; leads join body and terminals. */
export type PartLayout = Readonly<{
  shape: SymbolShape | undefined;
  centre: Point;
  turn: number;
  leads: readonly Segment[];
  /** The wiper's lead from its terminal, before it is moved by the rotation. */
  wiper?: Segment;
  body: Box;
}>;

const turnsOf = new Map([
  ["1,0", 0],
  ["0,1", 90],
  ["-1,0", 180],
  ["0,-1", 270],
]);

/**
 * Body, leads and axis of a placed part, in px.
 *
 * @throws {RangeError} if its terminals are not in line, are nearer than the body is long, or their number is wrong
 */
export function partLayout({ref, symbol, at}: PlacedPart): PartLayout {
  const points = at.map(toPx);
  const [first, second, third] = points;
  if (!first || !second) throw new RangeError(`${ref}: a placed part needs two terminals or more`);
  if (symbol === "op-amp") {
    if (!third) throw new RangeError(`${ref}: an op-amp is placed by its terminals +, − and output`);
    return opAmpLayout(first, second, third);
  }
  const last = symbol === "potentiometer" ? third : second;
  if (!last) throw new RangeError(`${ref}: a potentiometer is placed by its terminals top, wiper and bottom`);
  const direction = {x: Math.sign(last.x - first.x), y: Math.sign(last.y - first.y)};
  const turn = turnsOf.get(`${direction.x},${direction.y}`);
  if (turn === undefined) throw new RangeError(`${ref}: its terminals are not in line`);
  const shape = symbols[symbol];
  const length = Math.abs(last.x - first.x) + Math.abs(last.y - first.y);
  if (length < 2 * shape.reach) throw new RangeError(`${ref}: ${length} px between its terminals is too short`);
  const centre = {x: (first.x + last.x) / 2, y: (first.y + last.y) / 2};
  const along = (px: number) => ({x: centre.x + direction.x * px, y: centre.y + direction.y * px});
  return {
    shape,
    centre,
    turn,
    leads: [
      [first, along(-shape.reach)],
      [along(shape.reach), last],
    ],
    ...(symbol === "potentiometer" ? {wiper: wiperOf(second, centre)} : {}),
    body: turnedBox(centre, turn, shape),
  };
}

/** From the wiper's terminal to the level of the track's middle, then to its edge. */
const wiperOf = (terminal: Point, centre: Point): Segment => [
  terminal,
  {x: centre.x + Math.sign(terminal.x - centre.x) * 8, y: centre.y},
];

/** How far a wiper moves from the middle of its track. */
export const wiperTravelPx = 12;

/** Half the height of an op-amp's left edge. */
export const opAmpHalfPx = 31;
const opAmpLeadPx = 12;

function opAmpLayout(plus: Point, minus: Point, output: Point): PartLayout {
  const left = plus.x + opAmpLeadPx;
  const right = output.x - opAmpLeadPx;
  const centre = {x: left, y: output.y};
  const body = {left, right, top: output.y - opAmpHalfPx, bottom: output.y + opAmpHalfPx};
  return {
    shape: undefined,
    centre,
    turn: plus.y < minus.y ? 1 : -1,
    leads: [
      [plus, {x: left, y: plus.y}],
      [minus, {x: left, y: minus.y}],
      [{x: right, y: output.y}, output],
    ],
    body,
  };
}

function turnedBox(centre: Point, turn: number, {reach, breadth, room}: SymbolShape): Box {
  const [left, top, right, bottom] = room ?? [-reach, -breadth, reach, breadth];
  const corners = [
    [left, top],
    [right, bottom],
  ] as const;
  const cos = Math.round(Math.cos((turn * Math.PI) / 180));
  // A level symbol is mirrored, not turned.
  const height = turn === 180 ? 1 : cos;
  const sin = Math.round(Math.sin((turn * Math.PI) / 180));
  return joined(
    corners.map(([x, y]) => boxAround({x: centre.x + x * cos - y * sin, y: centre.y + x * sin + y * height}, 0, 0)),
  );
}
