import {expect, test} from "vitest";
import {currentThroughSeries, evaluate, type LawPoint} from "../../../src/engine/analysis/nonlinearities.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels, type OpAmpName} from "../../../src/engine/circuit/models/op-amps.ts";
import type {DiodeModel, OpAmpModel} from "../../../src/engine/circuit/part.ts";
import {published} from "../../reference-cases/published.ts";

// tests/reference/published/05_diodes.json and 06_opamps.json; tolerances in the rows, or beside the check.
const diodes = published("05_diodes");
const {Is = Number.NaN, n = Number.NaN, VT = Number.NaN} = diodes.parameters;
const course: DiodeModel = {...diodeModels.silicon, seriesOhms: 0};

const current = (volts: number, model: DiodeModel = course): LawPoint => {
  const point = {value: 0, slope: 0};
  evaluate({kind: "diode", model, inSeries: 1}, volts, point);
  return point;
};

test("the silicon diode of the shelf has the published parameters", () => {
  expect([course.saturationCurrent, course.emissionCoefficient, course.thermalVoltage]).toEqual([Is, n, VT]);
});

test("Shockley's law gives the published currents", () => {
  const rows = diodes.table("shockley_V_to_I") as readonly {V: number; I: number}[];
  expect(rows.length).toBeGreaterThan(10);
  for (const {V, I} of rows) expect(Math.abs(current(V).value - I)).toBeLessThanOrEqual(1e-12 * Math.abs(I)); // closed form
});

test("an anti-parallel pair has the published currents and conductances", () => {
  for (const {V, I, g} of diodes.table("antiparallel_pair") as readonly {V: number; I: number; g: number}[]) {
    const [there, back] = [current(V), current(-V)];
    expect(Math.abs(there.value - back.value - I)).toBeLessThanOrEqual(1e-11 * Math.abs(I) + 1e-24); // difference of two near 0 V
    expect(Math.abs((there.slope + back.slope) / g - 1)).toBeLessThan(1e-12);
  }
});

test("a diode with a resistor in series carries the published current", () => {
  const rows = diodes.table("diode_plus_resistor") as readonly {V: number; R: number; I: number}[];
  expect(rows.length).toBeGreaterThan(30);
  for (const {V, R, I} of rows) {
    expect(Math.abs(current(V, {...course, seriesOhms: R}).value / I - 1), `${V} V, ${R} Ω`).toBeLessThan(1e-9); // Lambert's function in double precision
    const outside = circuit([
      {kind: "voltage source", ref: "V", nodes: ["a", "0"], volts: V},
      {kind: "resistor", ref: "R", nodes: ["a", "d"], ohms: R},
      {kind: "diode", ref: "D", nodes: ["d", "0"], model: course, inSeries: 1},
    ]);
    const point = operatingPoint(outside);
    // The voltage across R is a difference of voltages up to 20 V, each good to 4e-15 V.
    expect(Math.abs((restVoltage(point, "a") - restVoltage(point, "d")) / R - I)).toBeLessThanOrEqual(
      1e-9 * Math.abs(I) + 1e-14 / R,
    );
  }
});

test("the worked example of a diode behind 249.3 Ω comes out as printed", () => {
  const inputs = diodes.rows("boost.diode")[0]?.inputs ?? {};
  const [V = 0, R = 0, Is1 = 0, n1 = 0, VT1 = 0] = ["V", "R", "Is", "n", "VT"].map((name) => Number(inputs[name]));
  diodes.check("boost.diode", currentThroughSeries(V, Is1, n1 * VT1, R));
});

test("the course's silicon diode lies inside the datasheets' windows", () => {
  const volts = (amperes: number) => n * VT * Math.log1p(amperes / Is);
  diodes.check("model.1mA", volts(1e-3));
  for (const [amperes, least, most] of [
    [5e-3, 0.62, 0.72], // 1N4448 at 5 mA: Diotech, Pan Jit
    [10e-3, 0, 1], // 1N4148 at 10 mA: Panjit, Vishay
  ] as const) {
    expect(volts(amperes)).toBeGreaterThan(least);
    expect(volts(amperes)).toBeLessThan(most);
  }
});

const windows: readonly (readonly [keyof typeof diodeModels, number, number, number, string])[] = [
  ["rectifier", 1, 0, 1.0, "1N4001 at 1 A: Diodes Inc. DS28002 Rev. E-2"],
  ["germanium", 5e-3, 0, 1.0, "1N34A at 5 mA: makers' sheets, from memory"],
  ["schottky", 1e-3, 0.39, 0.45, "BAT41 at 1 mA, 0.4 V typical: ST DS4884 Rev 3"],
  ["schottky", 0.2, 0, 1.0, "BAT41 at 200 mA: ST DS4884 Rev 3"],
  ["schottkyRectifier", 1, 0, 0.46, "1N5817 at 1 A: 0.45 V at most; fitted through 0.32 V at 0.1 A"],
  ["redLed", 0.02, 1.99, 2.01, "TLHR5400 at 20 mA, 2.0 V typical: Vishay Doc 83012 Rev. 2.3"],
  ["greenLed", 0.02, 2.39, 2.41, "TLHG4400 at 20 mA, 2.4 V typical: Vishay Doc 83006 Rev. 2.2"],
  ["blueLed", 0.02, 3.39, 3.41, "LC503TBL1 at 20 mA, 3.4 V typical: Cree CLD-CT063.000"],
];

test.each(windows)("the %s model at %f A lies between %f and %f V (%s)", (name, amperes, least, most) => {
  const model: DiodeModel = diodeModels[name];
  const volts =
    model.emissionCoefficient * model.thermalVoltage * Math.log1p(amperes / model.saturationCurrent) +
    amperes * model.seriesOhms;
  expect(volts).toBeGreaterThan(least);
  expect(volts).toBeLessThan(most);
  expect(Math.abs(current(volts, model).value / amperes - 1)).toBeLessThan(1e-9);
});

/** Parts of the table that are on the shelf. */
const onShelf: Readonly<Record<string, keyof typeof diodeModels>> = {
  "1N4148": "silicon",
  "1N4001": "rectifier",
  "1N5817": "schottkyRectifier",
  BAT41: "schottky",
  "red LED TLHR5400": "redLed",
  "1N34A germanium": "germanium",
};

test("the shelf's diodes keep the limits that their datasheets print", () => {
  type Limit = Readonly<{part: string; condition: string; limit: string; value: number | readonly number[]}>;
  const rows = diodes.table("published_diode_data") as readonly Limit[];
  let held = 0;
  for (const {part, condition, limit, value} of rows) {
    const name = onShelf[part];
    if (name === undefined || condition.includes("150")) continue;
    const model: DiodeModel = diodeModels[name];
    const [most = NaN] = [value].flat();
    const forward = /^VF at IF = ([\d.]+) (mA|A)/.exec(condition);
    if (forward !== null) {
      const amperes = Number(forward[1]) * (forward[2] === "mA" ? 1e-3 : 1);
      const volts = forwardVolts(model, amperes);
      if (limit === "max") expect(volts, `${part} ${condition}`).toBeLessThanOrEqual(most);
      else expect(Math.abs(volts / most - 1), `${part} ${condition}`).toBeLessThan(0.05); // typical: makers say no nearer
      held++;
    }
    const reverse = /^IR at (?:VR = )?([\d.]+) V/.exec(condition);
    if (reverse !== null) {
      expect(-current(-Number(reverse[1]), model).value, `${part} ${condition}`).toBeLessThan(most);
      held++;
    }
  }
  // What is left is of parts that are not on the shelf, of heat, and of capacitance and storage, which the model has not.
  expect(held).toBeGreaterThan(13);
});

function forwardVolts(
  {emissionCoefficient, thermalVoltage, saturationCurrent, seriesOhms}: DiodeModel,
  amperes: number,
): number {
  return emissionCoefficient * thermalVoltage * Math.log1p(amperes / saturationCurrent) + amperes * seriesOhms;
}

type Row = Readonly<{part: string; parameter: string; value: unknown; unit: string; source: string}>;
const figure = (part: string, parameter: RegExp, source: RegExp): number => {
  const rows = published("06_opamps").table("published_opamp_data") as readonly Row[];
  const found = rows.find((row) => row.part === part && parameter.test(row.parameter) && source.test(row.source));
  if (typeof found?.value !== "number") throw new Error(`no figure for ${part} ${parameter.source}`);
  return found.unit === "V/us" ? found.value * 1e6 : found.value;
};

test.each([
  ["tl072", "TL072", /ST TL072/],
  ["rc4558", "RC4558", /SLOS073 \(RC4558\)/],
  ["ne5532", "NE5532", /SLOS075/],
  ["lm358", "LM358", /SLOS068/],
  ["opa2134", "OPA2134", /SBOS058/],
  ["tlc2272", "TLC2272", /SLOS190H/],
] as const)("the op-amp %s has the figures of its one named document", (name: OpAmpName, part, source) => {
  const model = opAmpModels[name];
  expect(model.gainBandwidthHz).toBe(
    figure(part, /^(gain-bandwidth|unity-gain bandwidth)$/, name === "rc4558" ? /TI SLOS073 \(RC4558\)/ : source),
  );
  if ("slewVoltsPerSecond" in model)
    expect(model.slewVoltsPerSecond).toBeCloseTo(figure(part, /^slew rate$/, source), 3);
  if ("voltageNoise" in model) expect(model.voltageNoise).toBe(figure(part, /^input noise voltage 1 kHz$/, source));
});

test("the op-amp of TI SGLS244B has the figures of its first page: 3 MHz, 2.4 V/µs, 550 µA an amplifier", () => {
  const {gainBandwidthHz, slewVoltsPerSecond, supplyAmperes} = opAmpModels.tlv2372;
  expect([gainBandwidthHz, slewVoltsPerSecond, supplyAmperes]).toEqual([3e6, 2.4e6, 550e-6]);
});

test("the shelf has diodes of every kind, and two op-amps or more with each kind of input", () => {
  const named = Object.values(diodeModels).map(({name}) => name);
  for (const kind of ["silicon small-signal", "rectifier", "germanium", "Schottky", "red LED", "green LED", "blue LED"])
    expect(named.filter((name) => name.includes(kind)).length, kind).toBeGreaterThanOrEqual(1);
  const opAmps: readonly OpAmpModel[] = Object.values(opAmpModels);
  for (const inputs of ["bipolar", "JFET", "CMOS"] as const)
    expect(opAmps.filter((model) => model.inputs === inputs).length, inputs).toBeGreaterThanOrEqual(2);
  // Every op-amp but the ideal one says all that the macromodel and the noise need.
  for (const model of opAmps.filter(({inputs}) => inputs !== undefined))
    for (const figure of [
      "slewVoltsPerSecond",
      "swingToPositiveVolts",
      "swingToNegativeVolts",
      "voltageNoise",
      "currentNoise",
      "supplyAmperes",
    ] as const)
      expect(model[figure], `${model.name} ${figure}`).toBeGreaterThan(0);
});

test("every model names its source", () => {
  for (const {source} of [...Object.values(diodeModels), ...Object.values(opAmpModels)])
    expect(source.length).toBeGreaterThan(10);
});
