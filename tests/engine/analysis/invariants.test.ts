import {complex, lusolve} from "mathjs";
import {expect, test} from "vitest";
import {frequencyResponse, logFrequencies, type ComplexArray} from "../../../src/engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {smallSignalStamps} from "../../../src/engine/analysis/small-signal.ts";
import {frequencySolver} from "../../../src/engine/analysis/solve-at-frequencies.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {factorComplex, solveComplex, solveComplexTransposed} from "../../../src/engine/solve/complex-lu.ts";

const frequencies = logFrequencies(10, 30e3, 200);
const pedal = courseCircuit(startSetting(16)).circuit;

/** Largest difference relative to the largest of the expected. */
function apart(a: ComplexArray, b: ComplexArray): number {
  let [difference, size] = [0, 0];
  a.re.forEach((re, k) => {
    difference = Math.max(
      difference,
      Math.hypot(re - (b.re[k] ?? Number.NaN), (a.im[k] ?? 0) - (b.im[k] ?? Number.NaN)),
    );
    size = Math.max(size, Math.hypot(re, a.im[k] ?? 0));
  });
  return difference / size;
}

test("the response agrees with mathjs' LU solver at 200 frequencies", () => {
  const {size, conductance, storage, signal, unknownOf} = smallSignalStamps(pedal);
  const output = unknownOf.get("out") ?? -1;
  const ours = frequencyResponse(pedal, "out", frequencies);
  const theirs = {re: new Float64Array(frequencies.length), im: new Float64Array(frequencies.length)};
  frequencies.forEach((hz, k) => {
    const rows = Array.from({length: size}, () => Array.from({length: size}, () => complex(0, 0)));
    conductance.values.forEach((value, entry) => {
      const cell = rows[conductance.rows[entry] ?? 0]?.[conductance.columns[entry] ?? 0];
      if (cell !== undefined) cell.re += value;
    });
    storage.values.forEach((value, entry) => {
      const cell = rows[storage.rows[entry] ?? 0]?.[storage.columns[entry] ?? 0];
      if (cell !== undefined) cell.im += 2 * Math.PI * hz * value;
    });
    const x = lusolve(
      rows,
      [...signal].map((value) => [complex(value, 0)]),
    ) as unknown as {re: number; im: number}[][];
    theirs.re[k] = x[output]?.[0]?.re ?? Number.NaN;
    theirs.im[k] = x[output]?.[0]?.im ?? Number.NaN;
  });
  expect(apart(ours, theirs)).toBeLessThan(1e-11); // two eliminations in double precision, values over twelve decades
});

test("the planned elimination agrees with dense LU with pivoting, plain and transposed", () => {
  const equations = smallSignalStamps(pedal);
  const {size, conductance, storage, signal} = equations;
  const solver = frequencySolver(equations);
  const order = new Int32Array(size);
  const zero = new Float64Array(size);
  for (const hz of [1, 82, 1e3, 2e4, 1e6]) {
    const [re, im] = [new Float64Array(size * size), new Float64Array(size * size)];
    const add = (to: Float64Array, {rows, columns, values}: typeof storage, factor: number) =>
      values.forEach((value, k) => {
        const place = (rows[k] ?? 0) * size + (columns[k] ?? 0);
        to[place] = (to[place] ?? 0) + factor * value;
      });
    add(re, conductance, 1);
    add(im, storage, 2 * Math.PI * hz);
    expect(factorComplex(size, re, im, order)).toBe(true);
    const [xRe, xIm] = [new Float64Array(size), new Float64Array(size)];
    solver.factor(hz);
    solveComplex(size, re, im, order, signal, zero, xRe, xIm);
    const plain = solver.solve(signal);
    expect(apart({re: xRe, im: xIm}, {re: plain.xRe, im: plain.xIm})).toBeLessThan(1e-11);
    solveComplexTransposed(size, re, im, order, signal, zero, xRe, xIm);
    const turned = solver.solveTransposed(signal);
    expect(apart({re: xRe, im: xIm}, {re: turned.xRe, im: turned.xIm})).toBeLessThan(1e-11);
  }
});

test("multiplying every impedance by 10 leaves the voltage gain alone and multiplies the output impedance", () => {
  const linear = courseCircuit({lesson: 14, settings: {diodesFitted: 0, U1: 6}}).circuit;
  const scaled = circuit(linear.parts.filter(({kind}) => kind !== "diode").map((part) => tenfold(part)));
  const plain = circuit(linear.parts.filter(({kind}) => kind !== "diode"));
  // Op-amp 6 is the ideal one; D3 goes with the diodes, and its supply with it.
  expect(
    apart(frequencyResponse(plain, "out", frequencies), frequencyResponse(scaled, "out", frequencies)),
  ).toBeLessThan(1e-11);
  const [before, after] = [outputImpedance(plain, "out", frequencies), outputImpedance(scaled, "out", frequencies)];
  expect(apart({re: before.re.map((re) => 10 * re), im: before.im.map((im) => 10 * im)}, after)).toBeLessThan(1e-11);
});

function tenfold(part: Part): Part {
  switch (part.kind) {
    case "resistor":
    case "potentiometer":
      return {...part, ohms: part.ohms * 10};
    case "variable resistor":
      return {...part, ohms: part.ohms * 10, endOhms: part.endOhms * 10};
    case "capacitor":
      return {...part, farads: part.farads / 10};
    case "inductor":
      return {...part, henries: part.henries * 10};
    default:
      return part;
  }
}

test("renaming the nodes and shuffling the parts changes nothing", () => {
  const renamed = (node: string) => (node === "0" ? node : `node ${[...node].reverse().join("")}`);
  const parts = [...pedal.parts].reverse().map((part) => {
    const nodes = part.nodes.map(renamed);
    if (part.kind !== "op-amp" || part.supply === undefined) return {...part, nodes} as unknown as Part;
    return {
      ...part,
      nodes,
      supply: {positive: renamed(part.supply.positive), negative: renamed(part.supply.negative)},
    } as unknown as Part;
  });
  const other = frequencyResponse(circuit(parts), renamed("out"), frequencies);
  expect(apart(frequencyResponse(pedal, "out", frequencies), other)).toBeLessThan(1e-11);
});

test("a passive network is reciprocal: current in at a, voltage at b, and the other way round", () => {
  const passive = (from: string): Circuit =>
    circuit([
      {kind: "current source", ref: "I", nodes: ["0", from], amperes: 0, signal: true},
      ...courseCircuit(startSetting(2)).circuit.parts.filter(({kind}) => kind !== "voltage source"),
    ]);
  const forward = frequencyResponse(passive("vs"), "p", frequencies);
  const backward = frequencyResponse(passive("p"), "vs", frequencies);
  expect(apart(forward, backward)).toBeLessThan(1e-11);
});

test("two signals together give the sum of what each gives alone", () => {
  const parts = (first: boolean, second: boolean): Circuit =>
    circuit([
      {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, ...(first ? {signal: true} : {})},
      {kind: "resistor", ref: "R1", nodes: ["in", "out"], ohms: 1e3},
      {kind: "capacitor", ref: "C1", nodes: ["out", "0"], farads: 1e-7},
      {kind: "current source", ref: "I", nodes: ["0", "out"], amperes: 0, ...(second ? {signal: true} : {})},
    ]);
  const [a, b, both] = (
    [
      [true, false],
      [false, true],
      [true, true],
    ] as const
  ).map(([x, y]) => frequencyResponse(parts(x, y), "out", frequencies));
  if (a === undefined || b === undefined || both === undefined) throw new Error("three responses were asked for");
  expect(
    apart(both, {re: a.re.map((re, k) => re + (b.re[k] ?? 0)), im: a.im.map((im, k) => im + (b.im[k] ?? 0))}),
  ).toBeLessThan(1e-13);
});

test("the time a response takes to find grows with the nodes, not with their cube", () => {
  // Operations of the plan, not the clock: a ladder of n sections needs a fixed number of multiply-subtracts a section.
  const ladder = (sections: number) =>
    circuit([
      {kind: "voltage source", ref: "V", nodes: ["n0", "0"], volts: 0, signal: true},
      ...Array.from({length: sections}, (_, k): readonly Part[] => [
        {kind: "resistor", ref: `R${k}`, nodes: [`n${k}`, `n${k + 1}`], ohms: 1e3},
        {kind: "capacitor", ref: `C${k}`, nodes: [`n${k + 1}`, "0"], farads: 1e-9},
      ]).flat(),
    ]);
  const operations = (sections: number) => frequencySolver(smallSignalStamps(ladder(sections))).operations;
  expect(operations(80) / operations(20)).toBeLessThan(4.5);
  expect(operations(20)).toBeGreaterThan(0);
});
