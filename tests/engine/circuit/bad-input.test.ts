import fc from "fast-check";
import {expect, test} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {CircuitError, PartValueError} from "../../../src/engine/circuit/circuit-error.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";

const seed = Number(process.env["FAST_CHECK_SEED"] ?? 20261125);
const source: Part = {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 1, signal: true};
const R = (ref: string, a: string, b: string, ohms = 1e3): Part => ({kind: "resistor", ref, nodes: [a, b], ohms});
/** A part as it may come from somewhere that no type guards. */
const odd = (part: Readonly<Record<string, unknown>>): Part => part as unknown as Part;

const resistor = {kind: "resistor", ref: "R9", nodes: ["in", "0"], ohms: 1e3};
const pot = {kind: "potentiometer", ref: "RV9", nodes: ["in", "w", "0"], ohms: 1e4, position: 0.5, taper: "linear"};
const opAmp = {kind: "op-amp", ref: "U9", nodes: ["in", "o", "o"], model: opAmpModels.tl072};
const shelf = (models: object) => Object.keys(models).join(", ");

test.each([
  [{...resistor, ohms: 1e-15}, "R9: resistance must be from 1 mΩ to 1 TΩ, got 1 fΩ; check its prefix"],
  [{...resistor, ohms: "4k7"}, 'R9: resistance must be a number, got "4k7"'],
  [{...resistor, ohms: undefined}, "R9: resistance must be a number, got nothing"],
  [{...resistor, nodes: ["in"]}, "R9: a resistor joins 2 nodes, got 1; name them in their order"],
  [{kind: "resistor", ref: "R9", ohms: 1}, "R9: a resistor joins 2 nodes, got none; name them in their order"],
  [{...resistor, nodes: ["in", ""]}, 'R9: one of its nodes has no name; name it or use "0"'],
  [{...pot, position: -0.01}, "RV9: rotation must be from 0 to 1, got -0.01"],
  [
    {...pot, taper: "logarithmic"},
    'RV9: a taper is linear, audio, reverse audio or two-segment audio, got "logarithmic"',
  ],
  [
    {kind: "variable resistor", ref: "RV9", nodes: ["in", "0"], ohms: 1e3, position: 0, taper: "linear", endOhms: -1},
    "RV9: end resistance must be from 0 Ω to 1 kΩ, got -1 Ω",
  ],
  [
    {kind: "diode", ref: "D9", nodes: ["in", "0"], inSeries: 1},
    `D9: this diode is unknown; take a model of the shelf (${shelf(diodeModels)}) or give its figures`,
  ],
  [
    {...opAmp, model: "741"},
    `U9: this op-amp is unknown; take a model of the shelf (${shelf(opAmpModels)}) or give its figures`,
  ],
  [{...opAmp, supply: {positive: "in"}}, 'U9: one of its nodes has no name; name it or use "0"'],
  [
    {...opAmp, model: {...opAmpModels.tl072, voltageNoise: NaN}},
    "U9: voltage noise must be from 0 V/√Hz to 1 V/√Hz, got NaN V/√Hz",
  ],
  [
    {...opAmp, model: {...opAmpModels.tl072, gainBandwidthHz: Infinity}},
    "U9: a slew rate needs a finite gain-bandwidth; leave the slew rate out or give both",
  ],
  [
    {kind: "voltage source", ref: "V9", nodes: ["x", "0"], volts: 9, seriesOhms: -2},
    "V9: internal resistance must be from 0 Ω to 1 TΩ, got -2 Ω",
  ],
] as const)("%o is refused with what is wrong and what would do", (part, message) => {
  let error: unknown;
  try {
    circuit([source, R("R1", "x", "0"), odd(part)]);
  } catch (thrown) {
    error = thrown;
  }
  expect(error).toBeInstanceOf(PartValueError);
  expect((error as PartValueError).message).toBe(message);
  expect((error as PartValueError).ref).toBe(part.ref);
});

test("any value of any course part that no part can have is refused by the part's name", () => {
  const parts = courseCircuit({lesson: 16, settings: {}}).circuit.parts;
  const absurd = fc.oneof(
    fc.constantFrom(0, -0, NaN, Infinity, -Infinity),
    fc.double({min: -1e300, max: -1e-300, noNaN: true}),
    fc.double({min: 1e-300, max: 9e-16, noNaN: true}),
    fc.double({min: 1.1e12, max: 1e300, noNaN: true}),
  );
  const field = (part: Part): string | undefined =>
    ({resistor: "ohms", capacitor: "farads", inductor: "henries", potentiometer: "ohms", "variable resistor": "ohms"})[
      part.kind as string
    ];
  const valued = parts.filter((part) => field(part) !== undefined);
  expect(valued.length).toBeGreaterThan(20);
  fc.assert(
    fc.property(fc.constantFrom(...valued), absurd, (part, value) => {
      const spoilt = parts.map((each) => (each === part ? odd({...part, [field(part) ?? ""]: value}) : each));
      let error: unknown;
      try {
        circuit(spoilt);
      } catch (thrown) {
        error = thrown;
      }
      expect(error).toBeInstanceOf(PartValueError);
      expect((error as Error).message).toMatch(/: \w+ must be (positive|from .* to .*), got /);
      expect((error as Error).message.startsWith(`${part.ref}: `)).toBe(true);
    }),
    {numRuns: 2000, seed},
  );
});

test("parts left out of the pedal or wired anywhere give a circuit or a typed error, never another", () => {
  const parts = courseCircuit({lesson: 16, settings: {}}).circuit.parts;
  const nodes = ["0", "in", "a", "p", "ref", "o", "m", "lost"];
  let [built, refused] = [0, 0];
  fc.assert(
    fc.property(
      fc.subarray([...parts], {minLength: 1}),
      fc.array(fc.tuple(fc.nat(), fc.nat(), fc.constantFrom(...nodes)), {maxLength: 4}),
      (some, moves) => {
        const moved = some.map((part, k) => {
          const move = moves.find(([which]) => which % some.length === k);
          if (move === undefined) return part;
          return odd({
            ...part,
            nodes: part.nodes.map((node, at) => (at === move[1] % part.nodes.length ? move[2] : node)),
          });
        });
        try {
          operatingPoint(circuit(moved));
          built += 1;
        } catch (error) {
          expect(error).toBeInstanceOf(CircuitError);
          // A message that helps names a part or a node: in quotes, or before a colon.
          expect((error as Error).message).toMatch(/"|^\w[\w ]*: |stuck/);
          refused += 1;
        }
      },
    ),
    {numRuns: 1500, seed},
  );
  expect(built).toBeGreaterThan(50);
  expect(refused).toBeGreaterThan(50);
});

const stuck = (where: string) =>
  `the circuit has no operating point: ${where} is stuck; look for an op-amp without feedback, a source into nothing, or an inductor across a source`;

test.each([
  [
    "an ideal op-amp without feedback",
    [source, {kind: "op-amp", ref: "U1", nodes: ["in", "0", "o"], model: opAmpModels.ideal}, R("RL", "o", "0")],
    "the current of U1",
  ],
  [
    "a current into a capacitor alone",
    [
      {kind: "current source", ref: "I", nodes: ["0", "a"], amperes: 1e-3},
      {kind: "capacitor", ref: "C", nodes: ["a", "0"], farads: 1e-6},
    ],
    'node "a"',
  ],
  [
    "a coil across a source",
    [source, {kind: "inductor", ref: "L", nodes: ["in", "0"], henries: 1}],
    "the current of L",
  ],
] as const)("%s has no rest, and the message names what is stuck", (_, parts, where) => {
  expect(() => operatingPoint(circuit(parts as readonly Part[]))).toThrow(stuck(where));
});
