import type {Drawing} from "./drawing.ts";
import {liesOn, type Point, same, type Segment, segmentsOf, toPx} from "./geometry.ts";

export type Terminal = Readonly<{ref: string; index: number; point: Point}>;

const key = ({x, y}: Point) => `${x},${y}`;

/** Every terminal of every placed part, in px. */
export const terminalsOf = (drawing: Drawing): readonly Terminal[] =>
  drawing.parts.flatMap(({ref, at}) => at.map((point, index) => ({ref, index, point: toPx(point)})));

/**
 * Which points of a drawing are one conductor: a map from each terminal, mark and wire vertex (as "x,y" in px) to the
 * name of its net, which is the key of one of its points.
 *
 * Method: union-find over points; a point that lies on a wire belongs to it.
 */
export function netsOf(drawing: Drawing): (point: Point) => string {
  const parent = new Map<string, string>();
  const find = (name: string): string => {
    const above = parent.get(name) ?? name;
    return above === name ? name : find(above);
  };
  const unite = (a: string, b: string) => parent.set(find(a), find(b));
  const wires = drawing.wires.map(segmentsOf);
  const points = [
    ...terminalsOf(drawing).map((terminal) => terminal.point),
    ...drawing.marks.map((mark) => toPx(mark.at)),
    ...wires.flat(2),
  ];
  for (const wire of wires)
    for (const segment of wire)
      for (const point of points) if (liesOn(point, segment)) unite(key(point), key(segment[0]));
  return (point) => find(key(point));
}

/** Where three or more conductors meet and a dot is due, in px. */
export function junctionsOf(drawing: Drawing): readonly Point[] {
  const segments = drawing.wires.flatMap(segmentsOf);
  const tips = [
    ...terminalsOf(drawing).map((terminal) => terminal.point),
    ...drawing.marks.filter((mark) => mark.kind !== "end").map((mark) => toPx(mark.at)),
  ];
  const places = new Map([...segments.flat(), ...tips].map((point) => [key(point), point]));
  return [...places.values()].filter((point) => {
    const legs = segments.reduce((sum, segment) => sum + legsAt(point, segment), 0);
    return legs + tips.filter((tip) => same(tip, point)).length >= 3;
  });
}

function legsAt(point: Point, segment: Segment): number {
  if (!liesOn(point, segment)) return 0;
  return same(point, segment[0]) || same(point, segment[1]) ? 1 : 2;
}

/** Pairs of wire legs that cross without being joined; a sound drawing has none. */
export function crossingsOf(drawing: Drawing): readonly Point[] {
  const segments = drawing.wires.flatMap(segmentsOf);
  const level = segments.filter(([a, b]) => a.y === b.y);
  const upright = segments.filter(([a, b]) => a.x === b.x);
  return level.flatMap((across) =>
    upright.flatMap((down) => {
      const point = {x: down[0].x, y: across[0].y};
      return legsAt(point, across) === 2 && legsAt(point, down) === 2 ? [point] : [];
    }),
  );
}
