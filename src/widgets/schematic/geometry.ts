import {type GridPoint, gridPx} from "./drawing.ts";

/** A place in CSS pixels of the drawing at its own size. */
export type Point = Readonly<{x: number; y: number}>;
export type Segment = readonly [Point, Point];
/** An upright rectangle, edges in px. */
export type Box = Readonly<{left: number; top: number; right: number; bottom: number}>;

export const toPx = ([x, y]: GridPoint): Point => ({x: x * gridPx, y: y * gridPx});

export const boxAround = (centre: Point, halfWidth: number, halfHeight: number): Box => ({
  left: centre.x - halfWidth,
  top: centre.y - halfHeight,
  right: centre.x + halfWidth,
  bottom: centre.y + halfHeight,
});

export const joined = (boxes: readonly Box[]): Box => ({
  left: Math.min(...boxes.map((box) => box.left)),
  top: Math.min(...boxes.map((box) => box.top)),
  right: Math.max(...boxes.map((box) => box.right)),
  bottom: Math.max(...boxes.map((box) => box.bottom)),
});

/** Whether the boxes come nearer to each other than `gapPx` on both axes. */
export const touches = (a: Box, b: Box, gapPx = 0): boolean =>
  a.left < b.right + gapPx && b.left < a.right + gapPx && a.top < b.bottom + gapPx && b.top < a.bottom + gapPx;

/** The space a line of `widthPx` takes. */
export const lineBox = ([a, b]: Segment, widthPx = 2): Box => ({
  left: Math.min(a.x, b.x) - widthPx / 2,
  top: Math.min(a.y, b.y) - widthPx / 2,
  right: Math.max(a.x, b.x) + widthPx / 2,
  bottom: Math.max(a.y, b.y) + widthPx / 2,
});

/** Whether `point` lies on an upright or level segment, ends included. */
export const liesOn = (point: Point, [a, b]: Segment): boolean =>
  point.x >= Math.min(a.x, b.x) &&
  point.x <= Math.max(a.x, b.x) &&
  point.y >= Math.min(a.y, b.y) &&
  point.y <= Math.max(a.y, b.y);

export const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

/** The legs of a polyline. Throws a RangeError at a slanting one. */
export function segmentsOf(wire: readonly GridPoint[]): readonly Segment[] {
  const points = wire.map(toPx);
  return points.slice(1).map((point, index): Segment => {
    const before = points[index] as Point; // index runs one behind point
    if (before.x !== point.x && before.y !== point.y)
      throw new RangeError(`a wire slants from ${wire[index]?.join()} to ${wire[index + 1]?.join()}`);
    return [before, point];
  });
}
