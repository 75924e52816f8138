import fc from "fast-check";
import {all, create} from "mathjs";
import {expect, test} from "vitest";
import {frequencyResponse} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {smallSignalStamps} from "../../../src/engine/analysis/small-signal.ts";
import {frequencySolver} from "../../../src/engine/analysis/solve-at-frequencies.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {DiodeModel, Part} from "../../../src/engine/circuit/part.ts";
import {kirchhoff, kirchhoffInTime} from "./kirchhoff.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {capacitor, resistor} from "../../reference-cases/course-stages.ts";
import {courseCircuits, diodeCircuits, linearCircuits} from "./random-circuits.ts";

// By itself mathjs takes numbers under 1e-15 for zero.
const {lusolve} = create(all ?? {}, {absTol: 1e-300, relTol: 1e-300});

// The same circuits each time; another seed in FAST_CHECK_SEED looks further.
const seed = Number(process.env["FAST_CHECK_SEED"] ?? 20261125);

test.each([
  ["sources, resistors, capacitors, coils and pots", linearCircuits],
  ["the same with diodes of every kind", diodeCircuits],
  ["the course's own circuits with any values, any op-amp, any supply", courseCircuits],
] as const)("a thousand random circuits all come to rest, and satisfy Kirchhoff's current law: %s", (_, circuits) => {
  fc.assert(
    fc.property(circuits, (circuit) => {
      const point = operatingPoint(circuit);
      expect(point.x.every(Number.isFinite)).toBe(true);
      expect(kirchhoff(circuit, point)).toBeLessThan(1e-9); // of the largest current
    }),
    {numRuns: 1000, seed},
  );
});

/** Noise of up to 20 V, new at every step. */
const noise = (seed: number, length: number): Float64Array => {
  const draw = seededNoise(seed);
  return Float64Array.from({length}, () => 20 * draw());
};

test.each([
  ["sources, resistors, capacitors, coils and pots", linearCircuits],
  ["the same with diodes of every kind", diodeCircuits],
  ["the course's own circuits with any values, any op-amp, any supply", courseCircuits],
] as const)(
  "at every step under noise of 20 V the currents of all parts add up to nothing at every node: %s",
  (_, circuits) => {
    fc.assert(
      fc.property(circuits, fc.integer(), (circuit, seed) => {
        expect(kirchhoffInTime(circuit, noise(seed, 20), 96_000)).toBeLessThan(1e-9); // of the largest current
      }),
      {numRuns: 300, seed},
    );
  },
);

test.each([
  ["diodes of every kind, in chains and bridges too", diodeCircuits],
  ["the course's own circuits with any values, any op-amp, any supply", courseCircuits],
] as const)("the currents add up to nothing as live sound steps them: %s", (_, circuits) => {
  fc.assert(
    fc.property(circuits, fc.integer(), (circuit, seed) => {
      // Newton's last step, a microvolt, leaves some 1e-9 of each diode's current.
      expect(kirchhoffInTime(circuit, noise(seed, 20), 96_000, {asLive: true})).toBeLessThan(2e-9);
    }),
    {numRuns: 150, seed},
  );
});

test.each(Array.from({length: 18}, (_, k) => k + 4))(
  "the currents of lesson %i add up to nothing as live sound steps it",
  (lesson) => {
    const {circuit} = courseCircuit({lesson, settings: startSetting(lesson).settings});
    expect(kirchhoffInTime(circuit, noise(lesson, 200), 384_000, {asLive: true})).toBeLessThan(1e-9);
  },
);

test("an output that is the difference of megavolts is balanced to its last digit", () => {
  const parts: readonly Part[] = [
    {kind: "voltage source", ref: "guitar", nodes: ["p", "0"], volts: 9, signal: true},
    {kind: "voltage source", ref: "battery", nodes: ["vcc", "0"], volts: 18},
    {
      kind: "op-amp",
      ref: "U1",
      nodes: ["p", "m", "o"],
      supply: {positive: "vcc", negative: "0"},
      model: opAmpModels.ideal,
    },
    resistor("RV1", "o", "m", 10e6),
    resistor("R3", "m", "n", 0.01),
    capacitor("C3", "n", "0", 10e-6),
    capacitor("C5", "o", "w", 1e-6),
    resistor("RV2", "w", "0", 1e6),
  ];
  const quiet = noise(8, 20).map((volts) => volts / 2000);
  expect(kirchhoffInTime(circuit(parts), quiet, 96_000)).toBeLessThan(1e-9);
});

test("tens of amperes that two kinds of diode share over a hundredth of an ohm are balanced", () => {
  const chain = (ref: string, nodes: readonly [string, string], model: DiodeModel, inSeries: number): Part => ({
    kind: "diode",
    ref,
    nodes,
    model: {...model, seriesOhms: 0},
    inSeries,
  });
  const parts: readonly Part[] = [
    {kind: "voltage source", ref: "V", nodes: ["s", "0"], volts: -20, signal: true},
    resistor("R1", "s", "a", 1),
    resistor("R2", "a", "b", 0.01),
    chain("D1", ["c", "a"], diodeModels.silicon, 2),
    chain("D2", ["c", "b"], diodeModels.germanium, 3),
    chain("D3", ["0", "c"], diodeModels.silicon, 1),
    {kind: "inductor", ref: "L1", nodes: ["0", "d"], henries: 120e-6},
    resistor("R3", "d", "c", 10),
  ];
  for (let seed = 0; seed < 20; seed++)
    expect(kirchhoffInTime(circuit(parts), noise(seed, 20), 96_000)).toBeLessThan(1e-9); // of the largest current
});

test("what hangs on a node by ten microhms is balanced beside ten kilohms and amperes of diodes", () => {
  const diode = (ref: string, nodes: readonly [string, string]): Part => ({
    kind: "diode",
    ref,
    nodes,
    model: diodeModels.silicon,
    inSeries: 1,
  });
  const parts: readonly Part[] = [
    {kind: "voltage source", ref: "V", nodes: ["s", "0"], volts: -20, signal: true},
    resistor("R1", "s", "a", 1),
    resistor("R2", "a", "b", 9856),
    {kind: "variable resistor", ref: "RV1", nodes: ["a", "c"], ohms: 0.01, position: 0, taper: "linear", endOhms: 1e-5},
    diode("D1", ["0", "b"]),
    diode("D2", ["b", "a"]),
    diode("D3", ["0", "a"]),
  ];
  expect(kirchhoffInTime(circuit(parts), noise(0, 20), 96_000)).toBeLessThan(1e-9); // of the largest current
});

test("a capacitor that carries a millionth too much shows at its node", () => {
  const {circuit} = courseCircuit({lesson: 21, settings: startSetting(21).settings});
  expect(kirchhoffInTime(circuit, noise(1, 20), 96_000, {off: 1e-6})).toBeGreaterThan(1e-8);
});

test.each([4, 10, 21])("a step of lesson %i that is taken for unsolved is found to have a solution", (lesson) => {
  const {circuit} = courseCircuit({lesson, settings: startSetting(lesson).settings});
  for (const missed of [0, 7, 19])
    expect(() => kirchhoffInTime(circuit, noise(1, 20), 96_000, {missed})).toThrow("a step was not solved");
});

test("random linear circuits have the response that mathjs' LU solver finds", () => {
  fc.assert(
    fc.property(linearCircuits, fc.constantFrom(20, 440, 20e3), (circuit, hz) => {
      const equations = smallSignalStamps(circuit);
      const solver = frequencySolver(equations);
      solver.factor(hz);
      const {xRe, xIm} = solver.solve(equations.signal);
      const {sure, x: theirs} = solvedByMathjs(equations, hz);
      // Conductances over seventeen decades can cost a dense elimination every digit: such a judge is not heard.
      fc.pre(sure);
      const size = Math.max(...theirs.slice(0, equations.unknownOf.size).map(({re, im}) => Math.hypot(re, im)));
      theirs.slice(0, equations.unknownOf.size).forEach(({re, im}, k) => {
        // Values over nine decades and two eliminations in different orders: six digits of the largest voltage are left to agree on.
        expect(Math.hypot((xRe[k] ?? Number.NaN) - re, (xIm[k] ?? Number.NaN) - im)).toBeLessThanOrEqual(1e-6 * size);
      });
    }),
    {numRuns: 400, seed},
  );
});

/** The complex equations written as real ones of twice the size, rows and columns brought to size 1, and given to mathjs. */
function solvedByMathjs(
  {size, conductance, storage, signal, unknownOf}: ReturnType<typeof smallSignalStamps>,
  hz: number,
) {
  const rows = Array.from({length: 2 * size}, () => Array.from({length: 2 * size}, () => 0));
  const add = (row: number, column: number, value: number) => {
    const cells = rows[row];
    if (cells !== undefined) cells[column] = (cells[column] ?? 0) + value;
  };
  conductance.values.forEach((value, k) => {
    const [row, column] = [conductance.rows[k] ?? 0, conductance.columns[k] ?? 0];
    add(row, column, value);
    add(size + row, size + column, value);
  });
  storage.values.forEach((value, k) => {
    const [row, column, reactance] = [storage.rows[k] ?? 0, storage.columns[k] ?? 0, 2 * Math.PI * hz * value];
    add(row, size + column, -reactance);
    add(size + row, column, reactance);
  });
  const largest = (cells: readonly number[]) => Math.max(...cells.map(Math.abs));
  const rowFactors = rows.map((cells) => 1 / largest(cells));
  rows.forEach((cells, row) => cells.forEach((cell, column) => (cells[column] = cell * (rowFactors[row] ?? 1))));
  const columnFactors = rows.map((_, column) => 1 / largest(rows.map((cells) => cells[column] ?? 0)));
  const scaled = rows.map((cells) => cells.map((cell, column) => cell * (columnFactors[column] ?? 1)));
  const right = rows.map((_, row) => [row < size ? (signal[row] ?? 0) * (rowFactors[row] ?? 1) : 0]);
  const unscaled = (x: number[][]) => x.map(([cell = Number.NaN], k) => cell * (columnFactors[k] ?? 1));
  const x = unscaled(lusolve(scaled, right) as number[][]);
  // The unknowns in reverse order, coefficients one bit off by chance, four times, so that no part is off as a whole each time:
  // other eliminations, of equations that no double tells apart.
  const again = [1, 2, 3, 4].map((seed) => {
    const draw = seededNoise(seed);
    const off = scaled.map((cells) => cells.map((cell) => cell * (draw() < 0 ? 1 : 1 + 2 ** -52)).reverse());
    return unscaled((lusolve(off, right) as number[][]).reverse());
  });
  // Of the voltages, which are what is compared: amperes may be the larger by far.
  const voltages = (all: readonly number[]) => [
    ...all.slice(0, unknownOf.size),
    ...all.slice(size, size + unknownOf.size),
  ];
  const most = Math.max(...voltages(x).map(Math.abs));
  const sure = again
    .map(voltages)
    .every((others) => voltages(x).every((cell, k) => Math.abs(cell - (others[k] ?? Number.NaN)) <= 1e-7 * most));
  return {sure, x: Array.from({length: size}, (_, k) => ({re: x[k] ?? Number.NaN, im: x[size + k] ?? Number.NaN}))};
}

test("no response of a course circuit with any values is NaN or infinite", () => {
  const frequencies = Float64Array.of(20, 440, 20e3);
  const output = ({nodes}: Circuit) => (nodes.includes("out") ? "out" : "w");
  fc.assert(
    fc.property(courseCircuits, (circuit) => {
      const {re, im} = frequencyResponse(circuit, output(circuit), frequencies);
      expect([...re, ...im].every(Number.isFinite)).toBe(true);
    }),
    {numRuns: 500, seed},
  );
});
