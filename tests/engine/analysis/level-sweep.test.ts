import {expect, test} from "vitest";
import {levelSweep} from "../../../src/engine/analysis/level-sweep.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {homeCases} from "../../reference-cases/cases.ts";
import {readCircuit} from "../../reference-cases/read-case.ts";

// Source: tests/reference/independent/04_periodic_steady_state.json: the same circuit at 20, 100 and 300 mV.
const cases = homeCases("tran.direct.220Hz");

test("gain and distortion over level are those of the independent cycles", () => {
  const [first] = cases;
  if (first === undefined) throw new Error("no case of a direct drive at 220 Hz");
  const levels = Float64Array.from(cases, ({source}) => Number(source?.["amplitude_peak"]));
  const {gainDb, distortion} = levelSweep(readCircuit(first), "out", 220, levels);
  expect(cases).toHaveLength(3);
  cases.forEach(({expected}, k) => {
    const {magnitude} = expected["out"] as {magnitude: readonly number[]};
    const wanted = 20 * Math.log10((magnitude[0] ?? NaN) / (levels[k] ?? NaN));
    expect(Math.abs((gainDb[k] ?? NaN) - wanted)).toBeLessThan(1e-4); // 2e-6 of the peak and some, in decibels
    const harmonics = Math.hypot(...magnitude.slice(1)) / (magnitude[0] ?? NaN);
    expect(Math.abs((distortion[k] ?? NaN) - harmonics)).toBeLessThan(1e-5); // likewise, over twenty harmonics
  });
  expect(() => levelSweep(readCircuit(first), "out", 220, Float64Array.of(0))).toThrow(
    "levels must be positive, got 0 V at index 0",
  );
});

test("half the swing of a wave held on one side grows with every level, and is the peak where both sides are alike", () => {
  const levels = Float64Array.from({length: 12}, (_, k) => 10 ** (k / 6 - 2));
  const sweep = (diodesFitted: number) =>
    levelSweep(courseCircuit({lesson: 10, settings: {diodesFitted}}).circuit, "o", 110, levels, {input: "p"});
  const [both, alone] = [sweep(1), sweep(2)];
  levels.forEach((_, k) => {
    // What an odd wave has as its peak, it has as half its swing; rails that are not quite alike leave a thousandth.
    expect(Math.abs((both.halfSwingOut[k] ?? 0) / (both.peakOut[k] ?? 1) - 1)).toBeLessThan(1e-3);
    expect(Math.abs((alone.halfSwingIn[k] ?? 0) / (alone.peakIn[k] ?? 1) - 1)).toBeLessThan(1e-3);
    if (k > 0) expect(alone.halfSwingOut[k]).toBeGreaterThan(alone.halfSwingOut[k - 1] ?? Infinity);
  });
});

test("a coarser sweep keeps what a drawing shows, and an input node takes its own gain out", () => {
  const {circuit} = courseCircuit({lesson: 10, settings: {}});
  const levels = Float64Array.of(0.01, 0.1, 1);
  const fine = levelSweep(circuit, "o", 110, levels);
  const coarse = levelSweep(circuit, "o", 110, levels, {points: 64, stepsPerPoint: 2});
  const fromInput = levelSweep(circuit, "o", 110, levels, {input: "p", points: 64, stepsPerPoint: 2});
  const beforeInput = levelSweep(circuit, "p", 110, levels, {points: 64, stepsPerPoint: 2});
  levels.forEach((level, k) => {
    expect(fine.peakIn[k]).toBe(level);
    // A peak may lie half of a 64th of a cycle from the nearest point: 1 − cos(π/64) = 0.12 % of a sine, more of a bent one.
    expect(Math.abs((coarse.peakOut[k] ?? 0) / (fine.peakOut[k] ?? 1) - 1)).toBeLessThan(0.01);
    expect(Math.abs((coarse.gainDb[k] ?? 0) - (fine.gainDb[k] ?? 0))).toBeLessThan(0.02); // a hair of a drawn line
    // Gains in a row add up in decibels; both come from the same cycles, so rounding alone is left.
    expect((beforeInput.gainDb[k] ?? 0) + (fromInput.gainDb[k] ?? 0)).toBeCloseTo(coarse.gainDb[k] ?? 0, 9);
    expect(fromInput.peakIn[k]).toBeCloseTo(beforeInput.peakOut[k] ?? 0, 12);
  });
});
