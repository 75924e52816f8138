import {type PartView, type SchematicView, spokenPart} from "./view.ts";

/**
 * The fragment in words, for readers who hear the page: the way of the signal first, then what hangs on it.
 *
 * Made from the nodes of the parts drawn, so it says what the netlist says. `listenAt` is the node where the signal ends.
 */
export function describeCircuit(view: SchematicView, listenAt: string): string {
  const drawn = view.drawing.parts.flatMap(({ref}) => view.parts.get(ref) ?? []);
  const source = drawn.find(({ref}) => ref === "guitar");
  const ends = view.drawing.marks.filter(({kind}) => kind === "end");
  const start = source?.nodes[0] ?? ends[0]?.node ?? "";
  const finish = drawn.some(({nodes}) => nodes.includes(listenAt)) ? listenAt : (ends.at(-1)?.node ?? "");
  const path = shortestPath(
    drawn.filter((part) => part !== source),
    start,
    finish,
  );
  const places = placesOf(drawn, path, start);
  const from = source
    ? mention(source)
    : (ends.find(({node}) => node === start)?.text?.replace(/^from /, "") ?? "the input");
  const amplifier = drawn.some(({ref}) => ref === "amplifier resistance");
  const to = amplifier
    ? "the amplifier"
    : (ends
        .find(({node}) => node === finish)
        ?.text?.replace(/^to (?=amplifier)/, "to the ")
        .replace(/^to /, "") ?? "the output");
  const through = path.length > 0 ? ` through ${list(path.map(({part}) => mention(part)))}` : "";
  const onPath = new Set(path.map(({part}) => part));
  const hanging = chains(
    drawn.filter((part) => part !== source && !onPath.has(part)),
    places,
  );
  return [`From ${from} the signal goes${through} to ${to}.`, ...hanging.map((chain) => sentence(chain, places))].join(
    " ",
  );
}

type Step = Readonly<{part: PartView; to: string}>;
type Chain = Readonly<{parts: readonly PartView[]; from: string; to: string}>;
type Places = ReadonlyMap<string, string>;

const mention = (part: PartView) => (part.shown === "" ? `${part.name}, ${part.spoken}` : spokenPart(part));

const list = (items: readonly string[]) =>
  items.length < 2 ? items.join("") : `${items.slice(0, -1).join("; ")}; and ${items.at(-1)}`;

/** Where a signal may enter a part and come out again. */
function ways({nodes}: PartView): readonly (readonly [string, string])[] {
  const [first = "", second = "", third] = nodes;
  // A potentiometer leads from its top to its wiper, an op-amp from its non-inverting input to its output.
  if (third !== undefined) return [[first, third === "0" ? second : third]];
  return [
    [first, second],
    [second, first],
  ];
}

const rails: readonly string[] = ["0", "ref", "vcc", "supply"];

function shortestPath(parts: readonly PartView[], start: string, finish: string): readonly Step[] {
  const reached = new Map<string, readonly Step[]>([[start, []]]);
  for (const [node, steps] of reached) {
    if (node === finish) return steps;
    for (const part of parts)
      for (const [entry, to] of ways(part))
        if (entry === node && !reached.has(to) && !rails.includes(to)) reached.set(to, [...steps, {part, to}]);
  }
  return [];
}

/** How to speak of a node that is ground, a rail, on the signal's way or an input of the op-amp. */
function placesOf(drawn: readonly PartView[], path: readonly Step[], start: string): Places {
  const places = new Map([
    ["0", "ground"],
    ["ref", "the half-supply reference"],
    ["vcc", "the supply rail"],
    ["supply", "the battery's plus"],
    [start, "the start of the signal's way"],
  ]);
  for (const {part, to} of path) places.set(to, `the point after ${part.shown || part.name}`);
  for (const {ref, nodes} of drawn)
    if (ref === "U1" && nodes[1] && !places.has(nodes[1])) places.set(nodes[1], "U1's inverting input");
  return places;
}

/** Parts that follow each other with nothing else between are told as one chain. */
function chains(parts: readonly PartView[], places: Places): readonly Chain[] {
  const left = [...parts];
  const found: Chain[] = [];
  for (let part = left.shift(); part; part = left.shift()) {
    const [first = "", second = "", third] = part.nodes;
    const members = [part];
    let to = third ?? second;
    for (let next = onlyFollower(left, to, places); next; next = onlyFollower(left, to, places)) {
      left.splice(left.indexOf(next), 1);
      members.push(next);
      to = next.nodes.find((node) => node !== to) ?? to;
    }
    found.push({parts: members, from: first, to});
  }
  return found;
}

function onlyFollower(left: readonly PartView[], node: string, places: Places): PartView | undefined {
  const touching = left.filter(({nodes}) => nodes.includes(node));
  return places.has(node) || touching.length !== 1 ? undefined : touching[0];
}

function sentence({parts, from, to}: Chain, places: Places): string {
  const many = parts.length > 1;
  const place = (node: string) => places.get(node) ?? "the next part";
  const subject = list(parts.map(mention));
  return `${capital(subject)}${many ? ", in series, lead" : ", leads"} from ${place(from)} to ${place(to)}.`;
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
