import fc from "fast-check";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import {CircuitError} from "../../../src/engine/circuit/circuit-error.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {NodeName, OpAmpModel, Part, Taper} from "../../../src/engine/circuit/part.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";

/** A number spread evenly. Not fc.double: that spreads evenly over all doubles, nearly all of which lie next to 0. */
const evenly = (least: number, most: number) =>
  fc.integer({min: 0, max: 1_000_000}).map((k) => least + ((most - least) * k) / 1_000_000);

/** A value spread evenly over the logarithm of nine decades. */
const nineDecades = (least: number) => evenly(0, 9).map((decades) => least * 10 ** decades);

export const ohms = nineDecades(1e-2);
export const farads = nineDecades(1e-14);
export const henries = nineDecades(1e-6);
const position = fc.oneof(fc.constantFrom(0, 1), evenly(0, 1));
const taper = fc.constantFrom<Taper>("linear", "audio", "reverse audio");

/** The kinds of part that have a value, hung between two nodes that the wiring chooses. */
const linearPart = fc.oneof(
  {
    weight: 4,
    arbitrary: ohms.map((value) => (ref: string, a: NodeName, b: NodeName): Part => ({
      kind: "resistor",
      ref,
      nodes: [a, b],
      ohms: value,
    })),
  },
  {
    weight: 3,
    arbitrary: farads.map((value) => (ref: string, a: NodeName, b: NodeName): Part => ({
      kind: "capacitor",
      ref,
      nodes: [a, b],
      farads: value,
    })),
  },
  {
    weight: 1,
    arbitrary: henries.map((value) => (ref: string, a: NodeName, b: NodeName): Part => ({
      kind: "inductor",
      ref,
      nodes: [a, b],
      henries: value,
    })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(ohms, position, taper)
      .map(([value, where, law]) => (ref: string, a: NodeName, b: NodeName): Part => ({
        kind: "variable resistor",
        ref,
        nodes: [a, b],
        ohms: value,
        position: where,
        taper: law,
        endOhms: value / 1000,
      })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(ohms, position, taper)
      .map(([value, where, law]) => (ref: string, a: NodeName, b: NodeName): Part => ({
        kind: "potentiometer",
        ref,
        nodes: [a, b, "0"],
        ohms: value,
        position: where,
        taper: law,
      })),
  },
);

const diodePart = fc
  .tuple(fc.constantFrom(...Object.values(diodeModels)), fc.integer({min: 1, max: 3}), fc.boolean())
  .map(([model, inSeries, bare]) => (ref: string, a: NodeName, b: NodeName): Part => ({
    kind: "diode",
    ref,
    nodes: [a, b],
    model: bare ? {...model, seriesOhms: 0} : model,
    inSeries,
  }));

type Placed = (ref: string, a: NodeName, b: NodeName) => Part;

/** Parts hung on a random tree of nodes that grows from ground and the source, and some more across it. */
function wired(part: fc.Arbitrary<Placed>): fc.Arbitrary<readonly Part[]> {
  return fc.array(fc.tuple(part, fc.nat(), fc.nat(), fc.boolean()), {minLength: 1, maxLength: 14}).map((placed) => {
    const nodes = ["0", "n1"];
    return placed.flatMap(([make, first, second, grows], k): readonly Part[] => {
      const a = nodes[first % nodes.length] ?? "0";
      const others = nodes.filter((node) => node !== a);
      const b = grows ? `n${nodes.length}` : (others[second % others.length] ?? "n1");
      if (grows) nodes.push(b);
      const part = make(`P${k}`, a, b);
      if (part.kind !== "inductor") return [part];
      // A coil of no resistance across a source has no operating point; every real one has some wire.
      return [
        {...part, nodes: [a, `coil ${k}`]},
        {kind: "resistor", ref: `P${k} wire`, nodes: [`coil ${k}`, b], ohms: 10},
      ];
    });
  });
}

/** A source with an ohm inside: a diode without resistance straight across 20 V has a current that no number holds. */
const source = (volts: number): readonly Part[] => [
  {kind: "voltage source", ref: "V", nodes: ["inside", "0"], volts, signal: true},
  {kind: "resistor", ref: "V inside", nodes: ["inside", "n1"], ohms: 1},
];
const volts = evenly(-20, 20);

/** The circuit, or nothing where chance built one that the checks refuse (a source shorted by a pot at its end). */
function checked(parts: readonly Part[]): Circuit | undefined {
  try {
    return circuit(parts);
  } catch (error) {
    if (error instanceof CircuitError) return undefined;
    throw error;
  }
}

const onlyChecked = (parts: fc.Arbitrary<readonly Part[]>): fc.Arbitrary<Circuit> =>
  parts.map(checked).filter((each): each is Circuit => each !== undefined);

/** Sources, resistors, capacitors, inductors and potentiometers, wired anyhow. */
export const linearCircuits = onlyChecked(
  fc.tuple(volts, wired(linearPart)).map(([value, parts]) => [...source(value), ...parts]),
);

/** The same with diodes of every kind among them. */
export const diodeCircuits = onlyChecked(
  fc
    .tuple(volts, wired(fc.oneof({weight: 2, arbitrary: linearPart}, {weight: 1, arbitrary: diodePart})))
    .map(([value, parts]) => [...source(value), ...parts]),
);

const opAmps: readonly OpAmpModel[] = Object.values(opAmpModels);

/** The course's circuits, lesson 4 on, with every value drawn from nine decades, any op-amp, any diodes, pots anywhere. */
export const courseCircuits: fc.Arbitrary<Circuit> = onlyChecked(
  fc
    .tuple(
      fc.integer({min: 4, max: 21}),
      fc.array(fc.tuple(ohms, farads, position), {minLength: 30, maxLength: 30}),
      fc.constantFrom(...opAmps),
      fc.constantFrom(...Object.values(diodeModels)),
      volts,
      fc.constantFrom(9, 12, 18, -9),
    )
    .map(([lesson, values, opAmp, diode, signal, supply]) =>
      courseCircuit({lesson, settings: {}}).circuit.parts.map((part, k): Part => {
        const [R = 1, C = 1, where = 0] = values[k % values.length] ?? [];
        switch (part.kind) {
          case "resistor":
            return {...part, ohms: R};
          case "capacitor":
            return {...part, farads: C};
          case "potentiometer":
            return {...part, ohms: R, position: where};
          case "variable resistor":
            return {...part, ohms: R, position: where, endOhms: R / 1000};
          case "op-amp":
            return {...part, model: opAmp};
          case "diode":
            return part.ref === "D3" ? part : {...part, model: diode};
          case "voltage source":
            return {...part, volts: part.ref === "guitar" ? signal : supply};
          default:
            return part;
        }
      }),
    ),
);
