import {expect, test} from "vitest";
import {circuit, requireNode} from "../../../src/engine/circuit/circuit.ts";
import {valued, valueOf, withPart, withValue, without} from "../../../src/engine/circuit/changes.ts";
import {
  CircuitError,
  DuplicateReferenceError,
  FloatingNodeError,
  PartValueError,
  SourceLoopError,
  UnknownNodeError,
} from "../../../src/engine/circuit/circuit-error.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {OpAmpModel, Part} from "../../../src/engine/circuit/part.ts";

const V = (ref = "V1", a = "in", b = "0", volts = 1): Part => ({
  kind: "voltage source",
  ref,
  nodes: [a, b],
  volts,
  signal: true,
});
const R = (ref: string, a: string, b: string, ohms = 1e3): Part => ({kind: "resistor", ref, nodes: [a, b], ohms});
const C = (ref: string, a: string, b: string, farads = 1e-9): Part => ({kind: "capacitor", ref, nodes: [a, b], farads});
const wire = (ref: string, a: string, b: string): Part => ({kind: "wire", ref, nodes: [a, b]});
const pot = (position: number, nodes: readonly [string, string, string] = ["in", "w", "0"]): Part => ({
  kind: "potentiometer",
  ref: "RV1",
  nodes,
  ohms: 1e4,
  position,
  taper: "linear",
});
const U = (
  model: OpAmpModel = opAmpModels.ideal,
  nodes: readonly [string, string, string] = ["in", "m", "o"],
): Part => ({
  kind: "op-amp",
  ref: "U1",
  nodes,
  model,
});

const refused = (parts: readonly Part[], kind: new (message: string) => CircuitError, message: string) => {
  expect(() => circuit(parts)).toThrow(kind);
  let said = "";
  try {
    circuit(parts);
  } catch (error) {
    said = error instanceof Error ? error.message : "";
  }
  expect(said).toBe(message);
};

test("a circuit lists its nodes, ground first, in order of appearance", () => {
  expect(circuit([V(), R("R1", "in", "out"), C("C1", "out", "0")]).nodes).toEqual(["0", "in", "out"]);
});

test.each([
  [C("C3", "in", "0", -68e-9), "C3: capacitance must be positive, got -68 nF; leave the part out for 0 F"],
  [R("R1", "in", "0", 0), "R1: resistance must be positive, got 0 Ω; use a wire for 0 Ω"],
  [R("R1", "in", "0", Number.NaN), "R1: resistance must be positive, got NaN Ω; use a wire for 0 Ω"],
  [R("R1", "in", "0", Infinity), "R1: resistance must be from 1 mΩ to 1 TΩ, got Infinity Ω; check its prefix"],
  [R("R1", "in", "0", 1e-15), "R1: resistance must be from 1 mΩ to 1 TΩ, got 1 fΩ; check its prefix"],
  [C("C1", "in", "0", 1e12), "C1: capacitance must be from 1 fF to 10 F, got 1 TF; check its prefix"],
  [pot(1.2), "RV1: rotation must be from 0 to 1, got 1.2"],
  [pot(Number.NaN), "RV1: rotation must be from 0 to 1, got NaN"],
  [{...V(), volts: Infinity} as Part, "V1: voltage must be from -10 kV to 10 kV, got Infinity V"],
] as const)("refuses %o", (part, message) => refused([V("V0"), part], PartValueError, message));

test("a diode with an impossible model or number in series is refused", () => {
  const diode = (inSeries: number, change = {}): Part => ({
    kind: "diode",
    ref: "D1",
    nodes: ["in", "0"],
    model: {...diodeModels.silicon, ...change},
    inSeries,
  });
  refused([V(), diode(0)], PartValueError, "D1: diodes in series must be a whole number from 1 to 100, got 0");
  refused([V(), diode(1.5)], PartValueError, "D1: diodes in series must be a whole number from 1 to 100, got 1.5");
  refused(
    [V(), diode(1, {emissionCoefficient: 0})],
    PartValueError,
    "D1: emission coefficient must be from 0.1 to 10, got 0",
  );
});

test("a part of a kind that does not exist is refused by name", () => {
  const odd = {kind: "valve", ref: "V3", nodes: ["in", "0"]} as unknown as Part;
  refused([V(), odd], PartValueError, 'V3: "valve" is not a kind of part this engine knows');
});

test("two parts with one reference are refused", () => {
  refused(
    [V(), R("R1", "in", "0"), R("R1", "in", "0")],
    DuplicateReferenceError,
    "R1: two parts have this reference; rename one of them",
  );
});

test("a circuit without ground is refused", () => {
  expect(() => circuit([V("V1", "a", "b"), R("R1", "a", "b")])).toThrow(
    'no part touches ground; connect one terminal to node "0"',
  );
  expect(() => circuit([])).toThrow("the circuit has no parts; add a source and a load");
});

test("a floating island is refused, and the message names the node and its parts", () => {
  refused(
    [V(), R("R1", "in", "0"), R("R5", "t", "q"), C("C6", "t", "q")],
    FloatingNodeError,
    'node "t" has no path to ground; parts on it: R5, C6; join it to ground through a part',
  );
});

test("an op-amp input alone holds no node", () => {
  refused(
    [V(), U(opAmpModels.ideal, ["p", "o", "o"]), R("R1", "o", "in")],
    FloatingNodeError,
    'node "p" has no path to ground; parts on it: U1; join it to ground through a part',
  );
});

test("loops of sources, wires and op-amp outputs are refused", () => {
  const says = (ref: string, what: string, a: string, b: string) =>
    `${ref}: ${what} closes a loop of sources, wires and op-amp outputs between "${a}" and "${b}"; put a resistor in the loop or take one of them out`;
  refused([V(), V("V2")], SourceLoopError, says("V2", "this voltage source", "in", "0"));
  refused([V(), wire("W1", "in", "0")], SourceLoopError, says("V1", "this voltage source", "in", "0"));
  refused(
    [V(), wire("W1", "in", "a"), wire("W2", "a", "in"), R("R1", "a", "0")],
    SourceLoopError,
    says("W2", "this wire", "a", "in"),
  );
  refused([V(), U(opAmpModels.ideal, ["0", "in", "in"])], SourceLoopError, says("U1", "its output", "in", "0"));
});

test("a real op-amp with an output resistance may drive a source; an ideal one may not", () => {
  expect(circuit([V(), U(opAmpModels.tl072, ["0", "in", "in"])]).parts).toHaveLength(2);
});

test("a pot at either end is legal, even beside a wire", () => {
  for (const position of [0, 1]) expect(circuit([V(), pot(position), R("RL", "w", "0")]).nodes).toContain("w");
  expect(circuit([V(), pot(0), wire("W", "w", "0")]).parts).toHaveLength(3);
});

test("asking for a node that no part touches names the nodes there are", () => {
  const asked = () => requireNode(circuit([V(), R("R1", "in", "0")]), "out");
  expect(asked).toThrow(UnknownNodeError);
  expect(asked).toThrow('no part touches node "out"; the nodes are 0, in');
});

test("changes leave the circuit alone and give a checked new one", () => {
  const before = circuit([V(), R("R1", "in", "out"), C("C1", "out", "0")]);
  const after = withValue(before, "C1", 2e-9);
  expect(after.parts.map(valueOf)).toEqual([1, 1e3, 2e-9]);
  expect(before.parts.map(valueOf)).toEqual([1, 1e3, 1e-9]);
  expect(withPart(before, R("R2", "out", "0")).parts).toHaveLength(4);
  expect(() => withValue(before, "C1", -1)).toThrow(PartValueError);
  expect(() => withValue(before, "C9", 1)).toThrow('no part is called "C9"; the parts are V1, R1, C1');
  expect(without(before, "R1").parts).toHaveLength(2);
  expect(() => without(circuit([V(), R("R1", "in", "out"), R("R2", "out", "end")]), "R1")).toThrow(FloatingNodeError);
  expect(() => valued(wire("W", "a", "b"), 1)).toThrow(
    "W: a wire has no value to change; put another part in its place",
  );
});
