import {expect, test} from "vitest";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {armOhms, variableOhms} from "../../../src/engine/circuit/resistance.ts";
import {taperLaw} from "../../../src/engine/circuit/taper.ts";
import {published} from "../../reference-cases/published.ts";

// tests/reference/published/12_potentiometers.json; tolerances in the rows.
const facts = published("12_potentiometers");

test("an audio taper starts at 0, has 15 % at the middle and ends at 1", () => {
  facts.check("taper.exp.mid.0.15", [taperLaw("audio", 0), taperLaw("audio", 0.5), taperLaw("audio", 1)]);
});

test("audio and reverse audio follow the published table", () => {
  type Table = readonly {mid: number; values: readonly {x: number; y: number; reverse_log: number}[]}[];
  const rows = (facts.table("exponential_law") as Table).find(({mid}) => mid === 0.15)?.values ?? [];
  expect(rows.length).toBeGreaterThan(10);
  for (const {x, y, reverse_log} of rows) {
    expect(taperLaw("audio", x)).toBeCloseTo(y, 12); // the same closed form
    expect(taperLaw("reverse audio", x)).toBeCloseTo(reverse_log, 12);
  }
});

test("reverse audio is audio seen from the other end (check taper.symmetry)", () => {
  for (let k = 0; k <= 20; k++)
    expect(taperLaw("reverse audio", k / 20)).toBeCloseTo(1 - taperLaw("audio", 1 - k / 20), 12);
});

test("the middle of the audio taper lies in the range the makers state", () => {
  const [least, most] = [10, 20]; // check audio.mid: 10..20 % of total
  expect(100 * taperLaw("audio", 0.5)).toBeGreaterThanOrEqual(least);
  expect(100 * taperLaw("audio", 0.5)).toBeLessThanOrEqual(most);
});

test("mid travel of an audio taper is 16.5 dB down", () => {
  const expected = (facts.expected("taper.dB") as readonly number[])[1] ?? Number.NaN;
  expect(20 * Math.log10(taperLaw("audio", 0.5))).toBeCloseTo(expected, 9);
});

test("a rotation beyond the ends is an error", () => {
  expect(() => taperLaw("linear", 1.01)).toThrow(new RangeError("rotation must be from 0 to 1, got 1.01"));
  expect(() => taperLaw("audio", Number.NaN)).toThrow(new RangeError("rotation must be from 0 to 1, got NaN"));
});

test("the arms of a potentiometer add up to its track, and one of them is 0 Ω at each end", () => {
  for (const taper of ["linear", "audio", "reverse audio"] as const) {
    const at = (position: number) =>
      armOhms({kind: "potentiometer", ref: "RV2", nodes: ["w", "out", "0"], ohms: 100e3, position, taper});
    for (let k = 0; k <= 10; k++) expect(at(k / 10).upper + at(k / 10).lower).toBeCloseTo(100e3, 9);
    expect(at(0).lower).toBe(0);
    expect(at(1).upper).toBe(0);
  }
});

test("a variable resistor keeps its end resistance at the stop, whichever way it is wired", () => {
  const at = (position: number, reversed: boolean) =>
    variableOhms({
      kind: "variable resistor",
      ref: "RV1",
      nodes: ["o", "m"],
      ohms: 330e3,
      position,
      taper: "linear",
      endOhms: 50,
      reversed,
    });
  expect(at(0, false)).toBe(50);
  expect(at(1, true)).toBe(50);
  expect(at(1, false)).toBe(330050);
});

test("a potentiometer of three terminals keeps its end resistance at both ends, and never shorts", () => {
  const at = (position: number) =>
    armOhms({
      kind: "potentiometer",
      ref: "RV2",
      nodes: ["w", "out", "0"],
      ohms: 100e3,
      position,
      taper: "audio",
      endOhms: 20,
    });
  expect(at(0)).toEqual({upper: 100020, lower: 20});
  expect(at(1)).toEqual({upper: 20, lower: 100020});
  // Turned down it still lets a little through: 20 of 100 040 Ω, −74 dB.
  const volume = circuit([
    {kind: "voltage source", ref: "V", nodes: ["w", "0"], volts: 1},
    {
      kind: "potentiometer",
      ref: "RV2",
      nodes: ["w", "out", "0"],
      ohms: 100e3,
      position: 0,
      taper: "audio",
      endOhms: 20,
    },
  ]);
  expect(restVoltage(operatingPoint(volume), "out")).toBeCloseTo(20 / 100040, 12);
});
