import {describe, expect, test} from "vitest";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {valueOf} from "../../../src/engine/circuit/changes.ts";
import {bridgeOhms, faultsOf, openOhms, withFault, type Fault} from "../../../src/engine/circuit/faults.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {controlsOf, courseCircuit, lessonCount, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {capacitor, resistor} from "../../reference-cases/course-stages.ts";

/** Every fault a part can have; a wrong value ten times too large and ten times too small. */
const allFaults = (part: Part): readonly Fault[] =>
  faultsOf(part).flatMap((kind): readonly Fault[] => {
    if (kind !== "wrong value") return [{ref: part.ref, kind}];
    const value = valueOf(part) ?? NaN;
    return value === 0
      ? [{ref: part.ref, kind, value: 1}]
      : [10, 0.1].map((by) => ({ref: part.ref, kind, value: value * by}));
  });

describe.each(Array.from({length: lessonCount}, (_, k) => k + 1))("lesson %i", (lesson) => {
  test("rests with every fault of every part, to 1e-12 A of Kirchhoff's law, with a finite response", () => {
    const {circuit: bench, listenAt} = courseCircuit(startSetting(lesson));
    expect(operatingPoint(bench).residualAmperes).toBeLessThan(1e-12);
    for (const fault of bench.parts.flatMap(allFaults)) {
      const broken = withFault(bench, fault);
      const {x, residualAmperes} = operatingPoint(broken);
      const what = JSON.stringify(fault);
      expect(x.every(Number.isFinite), what).toBe(true);
      expect(residualAmperes, what).toBeLessThan(1e-12);
      const {re, im} = frequencyResponse(broken, listenAt, Float64Array.of(82.41, 1e3, 2e4));
      expect([...re, ...im].every(Number.isFinite), what).toBe(true);
    }
  });
});

test("with any one control at either end of its travel every lesson rests to 1e-12 A of Kirchhoff's law", () => {
  let count = 0;
  for (let lesson = 1; lesson <= lessonCount; lesson++) {
    for (const {name, values} of controlsOf(lesson)) {
      for (const value of new Set([values[0] ?? NaN, values.at(-1) ?? NaN])) {
        const point = operatingPoint(courseCircuit({lesson, settings: {[name]: value}}).circuit);
        expect(point.residualAmperes, `lesson ${lesson}, ${name} ${value}`).toBeLessThan(1e-12);
        count += 1;
      }
    }
  }
  expect(count).toBeGreaterThan(700);
});

// Independent reasoning on a divider whose every fault has a closed form: 9 V, R1 10 kΩ over R2 20 kΩ, C beside R2.
const battery: Part = {kind: "voltage source", ref: "B", nodes: ["p", "0"], volts: 9, signal: true};
const divider = circuit([
  battery,
  resistor("R1", "p", "d", 10e3),
  resistor("R2", "d", "0", 20e3),
  capacitor("C", "d", "0", 1e-8),
]);
const rest = (fault: Fault, of = divider, node = "d") => restVoltage(operatingPoint(withFault(of, fault)), node);
const beside = (a: number, b: number) => 1 / (1 / a + 1 / b);

test.each([
  [{ref: "R1", kind: "open"}, (9 * 20e3) / (openOhms + 20e3)],
  [{ref: "R1", kind: "short"}, 9],
  [{ref: "R2", kind: "open"}, (9 * openOhms) / (openOhms + 10e3)],
  [{ref: "R2", kind: "short"}, 0],
  [{ref: "R2", kind: "wrong value", value: 2e3}, (9 * 2) / 12],
  [{ref: "C", kind: "short"}, 0],
  [{ref: "C", kind: "open"}, (9 * beside(20e3, openOhms)) / (10e3 + beside(20e3, openOhms))],
  [{ref: "C", kind: "leaking"}, (9 * beside(20e3, 10e3)) / (10e3 + beside(20e3, 10e3))],
  [{ref: "C", kind: "leaking", ohms: 100e3}, (9 * beside(20e3, 100e3)) / (10e3 + beside(20e3, 100e3))],
  [{ref: "B", kind: "reversed"}, -6],
  // A bridge carries what a source can give, and the source here gives all: nothing sags.
  [{ref: "B", kind: "short"}, 6],
] as const)("a divider with %o rests where Ohm's law says", (fault, volts) => {
  expect(rest(fault)).toBeCloseTo(volts, 9); // openOhms in place of nothing: 9 V · 1e-8
  expect(bridgeOhms).toBeGreaterThan(0);
});

test("a capacitor gone or of the wrong value moves the corner as 1/(2π·R·C) says", () => {
  const R = beside(10e3, 20e3);
  const fallDb = (fault: Fault | undefined, hz: number) =>
    magnitudeDb(frequencyResponse(fault ? withFault(divider, fault) : divider, "d", Float64Array.of(hz)))[0] ?? NaN;
  const level = 20 * Math.log10(2 / 3);
  for (const hz of [100, 2e3, 1e5]) {
    const at = (farads: number) => level - 10 * Math.log10(1 + (2 * Math.PI * hz * R * farads) ** 2);
    expect(fallDb(undefined, hz)).toBeCloseTo(at(1e-8), 9); // closed form
    expect(fallDb({ref: "C", kind: "wrong value", value: 1e-7}, hz)).toBeCloseTo(at(1e-7), 9);
    expect(fallDb({ref: "C", kind: "open"}, hz)).toBeCloseTo(level, 6); // but for 1 TΩ beside it
  }
});

test("a reversed diode blocks: what is left is its saturation current", () => {
  const {seriesOhms: _, ...ideal} = diodeModels.silicon;
  const chain = circuit([
    battery,
    {kind: "diode", ref: "D", nodes: ["p", "d"], model: {...ideal, seriesOhms: 0}, inSeries: 1},
    resistor("R", "d", "0", 10e3),
  ]);
  // Shockley's law far in reverse: −Is through R, exp(−9/(n·VT)) being nothing.
  expect(rest({ref: "D", kind: "reversed"}, chain) / (10e3 * ideal.saturationCurrent)).toBeCloseTo(1, 9);
  expect(rest({ref: "D", kind: "short"}, chain)).toBeCloseTo(9, 12);
  expect(rest({ref: "D", kind: "open"}, chain)).toBeCloseTo((9 * 10e3) / openOhms, 12);
});

test("an op-amp with its inputs swapped runs into a rail; with its output gone its load is left alone", () => {
  const stage = circuit([
    {kind: "voltage source", ref: "B", nodes: ["vcc", "0"], volts: 9},
    {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 4, signal: true},
    {
      kind: "op-amp",
      ref: "U",
      nodes: ["in", "m", "o"],
      supply: {positive: "vcc", negative: "0"},
      model: opAmpModels.tl072,
    },
    resistor("Rf", "o", "m", 10e3),
    resistor("RL", "o", "0", 10e3),
  ]);
  expect(rest({ref: "U", kind: "reversed"}, stage, "o")).toSatisfy((volts: number) => volts < 2 || volts > 7);
  expect(Math.abs(rest({ref: "U", kind: "open"}, stage, "o"))).toBeLessThan(1e-6);
  expect(rest({ref: "U", kind: "short"}, stage, "o")).toBeCloseTo(9, 9); // bridged to its positive supply
});

test("a potentiometer with its wiper lifted keeps its track, and turned round gives the other arm", () => {
  const pot: Part = {
    kind: "potentiometer",
    ref: "RV",
    nodes: ["p", "w", "0"],
    ohms: 10e3,
    position: 0.25,
    taper: "linear",
  };
  const volume = circuit([battery, pot, resistor("RL", "w", "0", 1e9)]);
  expect(rest({ref: "RV", kind: "reversed"}, volume, "w")).toBeCloseTo(9 * 0.75, 4); // 1 GΩ takes 2e-6 of it
  // Half of 9 V behind two teraohms side by side, against 1 GΩ.
  expect(rest({ref: "RV", kind: "open"}, volume, "w")).toBeCloseTo((9 / 2) * (1e9 / (1e9 + openOhms / 2)), 6);
  expect(rest({ref: "RV", kind: "short"}, circuit([{...battery, seriesOhms: 1e3} as Part, pot]), "p")).toBeCloseTo(
    0,
    12,
  );
});

test("the pedal with its op-amp's inputs swapped leans on a rail, and hardly a sound is left", () => {
  const {circuit: pedal, listenAt} = courseCircuit(startSetting(20));
  const dead = withFault(pedal, {ref: "U1", kind: "reversed"});
  const point = operatingPoint(dead);
  // Positive feedback: between the rails lies a balance that no real circuit keeps. The TL072 stops 1.5 V from either supply.
  expect(restVoltage(point, "vcc") - restVoltage(point, "o")).toBeCloseTo(1.5, 1);
  const db = (of: typeof pedal) => magnitudeDb(frequencyResponse(of, listenAt, Float64Array.of(1e3)))[0] ?? NaN;
  expect(db(dead)).toBeLessThan(db(pedal) - 30);
});

test("a latch of one op-amp rests at a rail, whichever way it is pushed, and never between", () => {
  const latch = (volts: number) =>
    circuit([
      {kind: "voltage source", ref: "B", nodes: ["vcc", "0"], volts: 9},
      {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts, signal: true},
      {
        kind: "op-amp",
        ref: "U",
        nodes: ["p", "in", "o"],
        supply: {positive: "vcc", negative: "0"},
        model: opAmpModels.tl072,
      },
      resistor("Ra", "o", "p", 10e3),
      resistor("Rb", "p", "0", 10e3),
    ]);
  for (const volts of [0.2, 2, 3.5]) {
    const o = restVoltage(operatingPoint(latch(volts)), "o");
    expect(Math.min(Math.abs(o - 1.5), Math.abs(o - 7.5)), `${volts} V: ${o} V`).toBeLessThan(0.2); // the clamps' own softness
  }
});
