import {expect, test} from "vitest";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {usualTolerances} from "../../../src/engine/analysis/tolerance.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import type {Part, Taper} from "../../../src/engine/circuit/part.ts";
import {armOhms, variableOhms} from "../../../src/engine/circuit/resistance.ts";
import {taperLaw} from "../../../src/engine/circuit/taper.ts";
import {published} from "../../reference-cases/published.ts";

// tests/reference/published/12_potentiometers.json; tolerances in the rows.
const facts = published("12_potentiometers");

test.each([0.1, 0.15, 0.2])("an audio taper starts at 0, has %f at the middle and ends at 1", (middle) => {
  facts.check(
    `taper.exp.mid.${middle}`,
    [0, 0.5, 1].map((x) => taperLaw("audio", x, middle)),
  );
});

test("without another middle an audio taper has 15 %", () => {
  for (const taper of ["audio", "two-segment audio"] as const) expect(taperLaw(taper, 0.5)).toBeCloseTo(0.15, 15);
});

type Law = Readonly<{mid: number; values: readonly Readonly<Record<"x" | "y" | "reverse_log", number>>[]}>;

test("audio and reverse audio follow the published table", () => {
  const laws = facts.table("exponential_law") as readonly Law[];
  expect(laws.map(({mid}) => mid)).toEqual(expect.arrayContaining([0.1, 0.15, 0.2]));
  for (const {mid, values} of laws) {
    for (const {x, y, reverse_log} of values) {
      expect(taperLaw("audio", x, mid)).toBeCloseTo(y, 12); // the same closed form
      expect(taperLaw("reverse audio", x, mid)).toBeCloseTo(reverse_log, 12);
    }
  }
});

test("a track printed in two resistances follows the published table, also as a part", () => {
  for (const {mid, values} of facts.table("two_segment_law") as readonly Law[]) {
    for (const {x, y} of values) {
      expect(taperLaw("two-segment audio", x, mid)).toBeCloseTo(y, 12); // straight lines
      const {lower} = armOhms({
        kind: "potentiometer",
        ref: "RV2",
        nodes: ["w", "out", "0"],
        ohms: 100e3,
        position: x,
        taper: "two-segment audio",
        middle: mid,
      });
      expect(lower / 100e3).toBeCloseTo(y, 12);
    }
  }
});

test("reverse audio is audio seen from the other end", () => {
  expect(facts.expected("taper.symmetry")).toBe("identity");
  for (let k = 0; k <= 20; k++)
    expect(taperLaw("reverse audio", k / 20)).toBeCloseTo(1 - taperLaw("audio", 1 - k / 20), 12);
});

test("the middle of the audio taper lies in the range the makers state", () => {
  const [least = NaN, most = NaN] = facts.range("audio.mid"); // % of the whole
  expect(100 * taperLaw("audio", 0.5)).toBeGreaterThanOrEqual(least);
  expect(100 * taperLaw("audio", 0.5)).toBeLessThanOrEqual(most);
});

test("mid travel of an audio taper is as far down as its share says", () => {
  const divider = (position: number, taper: Taper, middle?: number) =>
    circuit([
      {kind: "voltage source", ref: "V", nodes: ["w", "0"], volts: 1, signal: true},
      {
        kind: "potentiometer",
        ref: "RV2",
        nodes: ["w", "out", "0"],
        ohms: 1e5,
        position,
        taper,
        ...(middle === undefined ? {} : {middle}),
      },
    ]);
  const decibels = (of: Circuit) => magnitudeDb(frequencyResponse(of, "out", Float64Array.of(1e3)))[0];
  facts.check("taper.dB", [
    ...[0.1, 0.15, 0.2].map((middle) => decibels(divider(0.5, "audio", middle))),
    decibels(divider(0.5, "linear")),
  ]);
});

test("the tolerance of a track is the usual one of carbon", () => {
  const {byKind = {}} = usualTolerances;
  for (const kind of ["potentiometer", "variable resistor"] as const)
    expect(100 * (byKind[kind] ?? NaN)).toBe(Number(facts.expected("tol")));
});

test("a middle that no audio taper has is refused by name", () => {
  const middle = 0.6;
  const pot: Part = {
    kind: "potentiometer",
    ref: "RV2",
    nodes: ["w", "out", "0"],
    ohms: 1e5,
    position: 0,
    taper: "audio",
    middle,
  };
  expect(() => circuit([pot])).toThrow("RV2: middle of its taper must be from 0.01 to 0.5, got 0.6");
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
