import type {Drawing, GridPoint, Mark} from "../drawing.ts";

/** A piece of a drawing, to be put together with others. */
export type Fragment = Partial<Omit<Drawing, "title" | "size">>;

/** The two drawings of a lesson. */
export type Pair = Readonly<Record<"wide" | "compact", Drawing>>;

/** One drawing from pieces, in the order in which the signal meets them. */
export const together = (title: string, size: GridPoint, ...pieces: readonly Fragment[]): Drawing => ({
  title,
  size,
  parts: pieces.flatMap(({parts = []}) => parts),
  wires: pieces.flatMap(({wires = []}) => wires),
  marks: pieces.flatMap(({marks = []}) => marks),
  boundaries: pieces.flatMap(({boundaries = []}) => boundaries),
  captions: pieces.flatMap(({captions = []}) => captions),
  jacks: pieces.flatMap(({jacks = []}) => jacks),
  probes: pieces.flatMap(({probes = []}) => probes),
});

/** The same piece, `steps` of the grid further down. */
export function lower(piece: Fragment, steps: number): Fragment {
  const down = ([x, y]: GridPoint): GridPoint => [x, y + steps];
  const placed = <T extends Readonly<{at: GridPoint}>>(things: readonly T[] = []) =>
    things.map((thing) => ({...thing, at: down(thing.at)}));
  return {
    parts: (piece.parts ?? []).map((part) => ({...part, at: part.at.map(down)})),
    wires: (piece.wires ?? []).map((wire) => wire.map(down)),
    marks: placed(piece.marks),
    boundaries: (piece.boundaries ?? []).map((one) => ({...one, from: down(one.from), to: down(one.to)})),
    captions: placed(piece.captions),
    jacks: (piece.jacks ?? []).map(down),
    probes: placed(piece.probes),
  };
}

/** A ground symbol at a place of the grid. */
export const ground = (x: number, y: number): Mark => ({kind: "ground", node: "0", at: [x, y]});

/** The half-supply reference at a place of the grid. */
export const reference = (x: number, y: number): Mark => ({
  kind: "reference",
  node: "ref",
  at: [x, y],
  text: "half supply",
});
