import {expect, test} from "vitest";
import {shoot, type CycleMap} from "../../../src/engine/analysis/shooting.ts";

/** A map of one entry with its slope; a nanofarad, and no rounding to speak of. */
const map = (next: (x: number) => number, slope: (x: number) => number): CycleMap => ({
  run: (from, end, sensitivity) => {
    end[0] = next(from[0] ?? NaN);
    sensitivity[0] = slope(from[0] ?? NaN);
    return Number.isFinite(end[0]);
  },
  rounding: (_, into) => void into.fill(1e-15),
  stores: Float64Array.of(1e-9),
});
const from = (volts: number) => Float64Array.of(volts);

test("what leaks a microvolt a cycle, and more of nothing until a diode 3 V away conducts, is followed there", () => {
  // A million cycles at a microvolt: 1 − Φ is 0 to the last digit until the diode is near.
  const leak = map(
    (x) => x + 1e-6 * (1 - Math.exp((x - 3) / 0.025)),
    (x) => 1 - (1e-6 / 0.025) * Math.exp((x - 3) / 0.025),
  );
  const state = from(0);
  expect(shoot(state, leak, 1e-10, 1e-8)).toBe(true);
  // Closer than 1e-10 of 3 V a cycle is 3e-4 of the leak, 8 µV of 25 mV.
  expect(state[0]).toBeCloseTo(3, 4);
});

test("what a diode charges and nothing empties counts as settled where it moves no more than was asked for", () => {
  // 1 V of overdrive: 40 widths, each of which a diode takes e times longer for.
  const charged = map(
    (x) => x + 1e-3 * Math.exp((1 - x) / 0.025),
    (x) => 1 - (1e-3 / 0.025) * Math.exp((1 - x) / 0.025),
  );
  const state = from(1);
  expect(shoot(state, charged, 1e-10, 1e-10)).toBe(true);
  const [volts = NaN] = state;
  expect(1e-3 * Math.exp((1 - volts) / 0.025)).toBeLessThan(1e-10 * volts);
});

test("a shot into where a step has no solution is taken back", () => {
  // From 0 V Newton's step leads to 16 V, beyond the edge at 2 V.
  const edge = map(
    (x) => (x > 2 ? NaN : x + 0.1 * Math.atan(5 * (1.5 - x))),
    (x) => 1 - 0.5 / (1 + 25 * (1.5 - x) ** 2),
  );
  const state = from(0);
  expect(shoot(state, edge, 1e-10, 1e-8)).toBe(true);
  expect(state[0]).toBeCloseTo(1.5, 9);
});

test("a cycle that has no solution where it starts is told", () => {
  expect(shoot(from(0), map(() => NaN, () => 1), 1e-10, 1e-8)).toBe(false); // prettier-ignore
});
