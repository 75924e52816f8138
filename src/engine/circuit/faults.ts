import {partNamed, valued, valueOf} from "./changes.ts";
import {circuit, type Circuit} from "./circuit.ts";
import {CircuitError, SourceLoopError} from "./circuit-error.ts";
import type {NodeName, Part} from "./part.ts";

/** One thing wrong with one part. */
export type Fault = Readonly<{ref: string}> &
  (
    | Readonly<{kind: "open" | "short" | "reversed"}>
    /** `value` in the unit of the part's kind: what was put in by mistake. */
    | Readonly<{kind: "wrong value"; value: number}>
    /** A capacitor with a resistance across it: 10 kΩ by default. */
    | Readonly<{kind: "leaking"; ohms?: number}>
  );

/** What air, board and flux leave of an open connection, in ohms: enough for every node to keep a place. */
export const openOhms = 1e12;

/** What a solder bridge leaves of a short across a source, in ohms. */
export const bridgeOhms = 0.01;

/**
 * The circuit with one part broken.
 *
 * Open: the part gone (a potentiometer: its wiper lifted; a voltage source: behind `openOhms`), its nodes held by `openOhms`. Short: a wire, or a bridge of `bridgeOhms`
 * where a wire would short a source. A potentiometer shorts across its track, an op-amp opens or shorts at its output, to its positive
 * supply (or ground). Reversed: nodes swapped: a diode, a source, the inputs of an op-amp, a potentiometer's ends.
 *
 * @throws {CircuitError} if there is no such part, or the fault changes nothing or means nothing for its kind
 */
export function withFault(whole: Circuit, fault: Fault): Circuit {
  const part = partNamed(whole, fault.ref);
  const replace = (...by: readonly Part[]) => circuit(whole.parts.flatMap((each) => (each === part ? by : [each])));
  switch (fault.kind) {
    case "open":
      return replace(...opened(part));
    case "short": {
      const [a, b] = shorted(part);
      try {
        return replace(...kept(part), {kind: "wire", ref: name(part, "short"), nodes: [a, b]});
      } catch (error) {
        if (!(error instanceof SourceLoopError)) throw error;
        return replace(...kept(part), resistor(name(part, "short"), a, b, bridgeOhms));
      }
    }
    case "reversed":
      return replace(turned(part));
    case "wrong value":
      if (valueOf(part) === fault.value)
        throw new CircuitError(`${part.ref}: the wrong value is the right one`, {ref: part.ref});
      return replace(valued(part, fault.value));
    case "leaking":
      if (part.kind !== "capacitor")
        throw new CircuitError(`${part.ref}: only a capacitor leaks, not a ${part.kind}`, {ref: part.ref});
      return replace(part, resistor(name(part, "leak"), ...part.nodes, fault.ohms ?? 10e3));
  }
}

/** The kinds of fault that mean something for a part. */
export function faultsOf(part: Part): readonly Fault["kind"][] {
  const wrong: readonly Fault["kind"][] = valueOf(part) === undefined ? [] : ["wrong value"];
  switch (part.kind) {
    case "capacitor":
      return ["open", "short", "leaking", ...wrong];
    case "diode":
    case "op-amp":
    case "voltage source":
    case "potentiometer":
      return ["open", "short", "reversed", ...wrong];
    case "wire":
      return ["open"];
    default:
      return ["open", "short", ...wrong];
  }
}

const name = ({ref}: Part, what: string) => `${ref} ${what}`;

const resistor = (ref: string, a: NodeName, b: NodeName, ohms: number): Part => ({
  kind: "resistor",
  ref,
  nodes: [a, b],
  ohms,
});

function opened(part: Part): readonly Part[] {
  const air = (a: NodeName, b: NodeName, which = "open") => resistor(name(part, which), a, b, openOhms);
  if (part.kind === "potentiometer") {
    const [top, wiper, bottom] = part.nodes;
    return [
      resistor(name(part, "track"), top, bottom, part.ohms + 2 * (part.endOhms ?? 0)),
      air(top, wiper, "open top"),
      air(wiper, bottom, "open bottom"),
    ];
  }
  if (part.kind === "op-amp") {
    const [plus, minus, output] = part.nodes;
    return [air(output, "0"), air(plus, "0", "open +"), air(minus, "0", "open −")];
  }
  // A source's open lead: what it gives still stands behind the air, so that the signal has its place.
  if (part.kind === "voltage source") return [{...part, seriesOhms: openOhms}];
  return [air(...part.nodes)];
}

/** The two nodes that a short joins. */
function shorted(part: Part): readonly [NodeName, NodeName] {
  if (part.kind === "wire") throw new CircuitError(`${part.ref}: a wire is a short already`, {ref: part.ref});
  if (part.kind === "op-amp") return [part.nodes[2], part.supply?.positive ?? "0"];
  if (part.kind === "potentiometer") return [part.nodes[0], part.nodes[2]];
  return part.nodes;
}

/** What stays beside a short: a source goes on driving it, a potentiometer's wiper needs its track. */
function kept(part: Part): readonly Part[] {
  if (part.kind === "op-amp") return opened(part);
  return part.kind === "voltage source" || part.kind === "current source" || part.kind === "potentiometer"
    ? [part]
    : [];
}

function turned(part: Part): Part {
  switch (part.kind) {
    case "diode":
      return {...part, nodes: [part.nodes[1], part.nodes[0]]};
    case "voltage source":
      return {...part, nodes: [part.nodes[1], part.nodes[0]]};
    case "op-amp":
      return {...part, nodes: [part.nodes[1], part.nodes[0], part.nodes[2]]};
    case "potentiometer":
      return {...part, nodes: [part.nodes[2], part.nodes[1], part.nodes[0]]};
    default:
      throw new CircuitError(`${part.ref}: turning a ${part.kind} round changes nothing`, {ref: part.ref});
  }
}
