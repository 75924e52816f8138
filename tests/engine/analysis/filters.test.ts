import {expect, test} from "vitest";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import type {OpAmpModel, Part} from "../../../src/engine/circuit/part.ts";
import {cornersOf, shelfOf} from "../../../src/engine/analysis/corners.ts";
import {
  frequencyResponse,
  logFrequencies,
  magnitudeDb,
  phaseDegrees,
} from "../../../src/engine/analysis/frequency-response.ts";
import {groupDelay} from "../../../src/engine/analysis/group-delay.ts";
import {inputImpedance, outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {responseCorners, responseShelf} from "../../../src/engine/analysis/response-corners.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values and tolerances: tests/reference/published/04_filters_gain.json and 17_pickups.json, by the id given beside each.
const filters = published("04_filters_gain");

const source: Part = {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true};
const R = (ref: string, a: string, b: string, ohms: number): Part => ({kind: "resistor", ref, nodes: [a, b], ohms});
const C = (ref: string, a: string, b: string, farads: number): Part => ({
  kind: "capacitor",
  ref,
  nodes: [a, b],
  farads,
});
const L = (ref: string, a: string, b: string, henries: number): Part => ({
  kind: "inductor",
  ref,
  nodes: [a, b],
  henries,
});
const lowPass = (ohms: number, farads: number) =>
  circuit([source, R("R", "in", "out", ohms), C("C", "out", "0", farads)]);
const highPass = (ohms: number, farads: number) =>
  circuit([source, C("C", "in", "out", farads), R("R", "out", "0", ohms)]);
const model = (openLoopGain: number, gainBandwidthHz: number): OpAmpModel => ({
  name: "test",
  openLoopGain,
  gainBandwidthHz,
  inputOhms: Infinity,
  outputOhms: 0,
  source: "test",
});
const ideal = model(Infinity, Infinity);
const opAmp = (nodes: readonly [string, string, string], of: OpAmpModel = ideal): Part => ({
  kind: "op-amp",
  ref: "U",
  nodes,
  model: of,
});
const nonInverting = (Rf: number, Rg: number, of: OpAmpModel = ideal) =>
  circuit([source, opAmp(["in", "m", "out"], of), R("Rf", "out", "m", Rf), R("Rg", "m", "0", Rg)]);

const gainAt = (of: Circuit, hz: number) => {
  const {re, im} = frequencyResponse(of, "out", Float64Array.of(hz));
  return {re: re[0] ?? Number.NaN, im: im[0] ?? Number.NaN};
};
const dbAt = (of: Circuit, hz: number) =>
  magnitudeDb(frequencyResponse(of, "out", Float64Array.of(hz)))[0] ?? Number.NaN;
const degreesAt = (of: Circuit, hz: number) =>
  phaseDegrees(frequencyResponse(of, "out", Float64Array.of(hz)))[0] ?? Number.NaN;

test("every RC pair of the table has its corner at 1/(2πRC)", () => {
  const rows = filters.rows("fc.");
  expect(rows.length).toBeGreaterThan(10);
  for (const {id, inputs} of rows) {
    const [ohms, farads] = [Number(inputs["R"]), Number(inputs["C"])];
    filters.check(id, responseCorners(lowPass(ohms, farads), "out", {lowHz: 0.01, highHz: 1e8, referenceDb: 0}).high);
  }
});

test("a first-order section is 3 dB down and 45° turned at its corner", () => {
  const corner = 1 / (2 * Math.PI * 1e3 * 1e-8);
  filters.check("fo.corner.dB", dbAt(lowPass(1e3, 1e-8), corner));
  filters.check("fo.corner.phase", [degreesAt(lowPass(1e3, 1e-8), corner), degreesAt(highPass(1e3, 1e-8), corner)]);
});

test("the project's own corners, of the leg and of the tone control, are where it says", () => {
  const corner = (ohms: number, farads: number) =>
    responseCorners(lowPass(ohms, farads), "out", {lowHz: 0.01, highHz: 1e8, referenceDb: 0}).high;
  filters.check("project.fc.709", corner(3300, 68e-9));
  filters.check("project.tone", [corner(21e3, 10e-9), corner(1e3, 10e-9)]);
});

test("a first-order section falls by 20 dB a decade far away", () => {
  // At ten thousand times the corner the slope differs by (fc/f)², 1e-8 of a neper.
  filters.check("slope.decade", dbAt(lowPass(1e3, 1e-8), 1.6e8) - dbAt(lowPass(1e3, 1e-8), 1.6e9), 1e-7);
});

test("ratios of voltage are the decibels of the table", () => {
  filters.check(
    "dB.facts",
    [2, 10, Math.SQRT2, 100, 101].map((ratio) => dbAt(nonInverting((ratio - 1) * 1e3, 1e3), 1e3)),
  );
});

test("an inverting stage turns the sign, and its noise gain is one more", () => {
  const inverting = circuit([source, R("Rg", "in", "m", 1e3), R("Rf", "out", "m", 10e3), opAmp(["0", "m", "out"])]);
  filters.check("inv", [gainAt(inverting, 1e3).re, gainAt(nonInverting(10e3, 1e3), 1e3).re], 1e-12); // rounding of 11
});

test("a potentiometer's output resistance is greatest half way: a quarter of its track", () => {
  const at = (position: number) =>
    outputImpedance(
      circuit([
        source,
        {kind: "potentiometer", ref: "RV", nodes: ["in", "out", "0"], ohms: 1, position, taper: "linear"},
      ]),
      "out",
      Float64Array.of(1e3),
    ).re[0] ?? Number.NaN;
  const all = Array.from({length: 101}, (_, k) => at(k / 100));
  filters.check("pot.source", Math.max(...all), 1e-15);
  expect(all.indexOf(Math.max(...all))).toBe(50);
});

test("first-order low- and high-pass follow the published table", () => {
  const table = filters.table("first_order") as readonly Record<string, number>[];
  expect(table.length).toBeGreaterThan(10);
  const corner = 1 / (2 * Math.PI * 4.7e3 * 33e-9);
  for (const row of table) {
    const hz = corner * (row["f_over_fc"] ?? Number.NaN);
    // Closed forms in double precision on both sides.
    expect(dbAt(lowPass(4.7e3, 33e-9), hz)).toBeCloseTo(row["lp_dB"] ?? Number.NaN, 9);
    expect(dbAt(highPass(4.7e3, 33e-9), hz)).toBeCloseTo(row["hp_dB"] ?? Number.NaN, 9);
    expect(degreesAt(lowPass(4.7e3, 33e-9), hz)).toBeCloseTo(row["lp_deg"] ?? Number.NaN, 9);
    expect(degreesAt(highPass(4.7e3, 33e-9), hz)).toBeCloseTo(row["hp_deg"] ?? Number.NaN, 9);
  }
});

test("far above its corner a first-order low-pass falls 6 dB an octave", () => {
  const curve = frequencyResponse(lowPass(1e3, 1e-6), "out", Float64Array.of(1e8, 2e8, 4e8));
  const {slopeAtHighEnd} = cornersOf(Float64Array.of(1e8, 2e8, 4e8), magnitudeDb(curve));
  filters.check("slope.octave", -slopeAtHighEnd, 1e-9); // at 600 000 times the corner the slope differs by (fc/f)², 1e-11
});

test("two equal RC low-passes in a row: 0.374 of the corner when the second loads the first", () => {
  const corner = 1 / (2 * Math.PI * 1e3 * 1e-8);
  const loaded = circuit([
    source,
    R("R1", "in", "a", 1e3),
    C("C1", "a", "0", 1e-8),
    R("R2", "a", "out", 1e3),
    C("C2", "out", "0", 1e-8),
  ]);
  filters.check("two.rc.unbuffered", (responseCorners(loaded, "out", {referenceDb: 0}).high ?? 0) / corner);
  const buffered = circuit([
    source,
    R("R1", "in", "a", 1e3),
    C("C1", "a", "0", 1e-8),
    opAmp(["a", "b", "b"]),
    R("R2", "b", "out", 1e3),
    C("C2", "out", "0", 1e-8),
  ]);
  filters.check("two.rc.buffered", (responseCorners(buffered, "out", {referenceDb: 0}).high ?? 0) / corner);
});

test("a non-inverting stage has the gain 1 + Rf/Rg", () => {
  for (const {id, inputs} of filters.rows("noninv.")) {
    const stage = nonInverting(Number(inputs["Rf"]), Number(inputs["Rg"]));
    filters.check(id, [gainAt(stage, 1e3).re, dbAt(stage, 1e3)]);
  }
});

test("finite open-loop gain takes a little off 101", () => {
  for (const {id, inputs} of filters.rows("loopgain.")) {
    filters.check(id, gainAt(nonInverting(100e3, 1e3, model(Number(inputs["A0"]), 3e6)), 0).re);
  }
});

test("closed-loop bandwidth is gain-bandwidth over noise gain", () => {
  const stage = nonInverting(330050, 3300, model(Infinity, 3e6));
  filters.check("gbw.course", responseCorners(stage, "out", {lowHz: 0.1}).high);
  const corner = 3e6 / (1 + 330050 / 3300);
  filters.check("gbw.atcorner", [dbAt(stage, corner) - dbAt(stage, 0), degreesAt(stage, corner)]);
});

test("a parallel LC with R has its peak, its height and its width where theory says", () => {
  for (const {id, inputs} of filters.rows("plc.")) {
    const [ohms, henries, farads] = [Number(inputs["R"]), Number(inputs["L"]), Number(inputs["C"])];
    // A resistance in front a million times larger makes a current source; it takes one part in a million off the width.
    const drive: Part = {kind: "current source", ref: "I", nodes: ["0", "out"], amperes: 0, signal: true};
    const tank = circuit([drive, R("R", "out", "0", ohms), L("L", "out", "0", henries), C("C", "out", "0", farads)]);
    const {peak, low = Number.NaN, high = Number.NaN} = responseCorners(tank, "out", {lowHz: 10, highHz: 1e6});
    const [f0, quality, width] = filters.expected(id) as readonly [number, number, number];
    // A maximum is flat: its place is found to about the root of 1e-16.
    expect(Math.abs(peak.frequencyHz / f0 - 1)).toBeLessThan(1e-6);
    expect(Math.abs((high - low) / width - 1)).toBeLessThan(1e-8); // difference of two corners known to 1e-9
    expect(Math.abs(Math.sqrt(low * high) / f0 - 1)).toBeLessThan(1e-9); // the −3 dB points lie symmetrically
    expect(Math.abs(f0 / (high - low) / quality - 1)).toBeLessThan(1e-8);
  }
});

test("a loaded potentiometer at half travel gives 0.4, and is worth a quarter of itself as a source", () => {
  const pot: Part = {
    kind: "potentiometer",
    ref: "RV",
    nodes: ["in", "out", "0"],
    ohms: 10e3,
    position: 0.5,
    taper: "linear",
  };
  filters.check("pot.loaderr", gainAt(circuit([source, pot, R("RL", "out", "0", 10e3)]), 1e3).re);
  expect(outputImpedance(circuit([source, pot]), "out", Float64Array.of(1e3)).re[0]).toBeCloseTo(2.5e3, 9); // pot.source: R/4, exact
});

test("the pickup resonates where 1/(2π√(LC)) says, and √2 higher with half the capacitance", () => {
  const pickups = published("17_pickups");
  const pickup = (farads: number) =>
    circuit([source, R("r", "in", "x", 1), L("L", "x", "out", 2.6), C("C", "out", "0", farads)]);
  const peakHz = (farads: number) => responseCorners(pickup(farads), "out", {lowHz: 100, highHz: 1e5}).peak.frequencyHz;
  // With 1 Ω the peak lies (R/X)²/4, about 1e-10, below the undamped resonance; its place is known to 1e-8.
  expect(Math.abs(peakHz(570e-12) / Number(pickups.expected("pickup.f0")) - 1)).toBeLessThan(1e-6);
  expect(Math.abs(peakHz(285e-12) / peakHz(570e-12) / Number(pickups.expected("pickup.cable")) - 1)).toBeLessThan(1e-6);
});

test("the course's pickup, cable and resonance lie inside the published ranges", () => {
  const rows = published("17_pickups").table("published") as readonly {quantity: string; value: [number, number]}[];
  const range = (quantity: string) => rows.find((row) => row.quantity === quantity)?.value ?? [Number.NaN, Number.NaN];
  const within = (value: number, quantity: string, factor = 1) => {
    const [least, most] = range(quantity);
    expect(value).toBeGreaterThanOrEqual(least * factor);
    expect(value).toBeLessThanOrEqual(most * factor);
  };
  within(2.6, "inductance of available pickups");
  within(100e-12, "winding capacitance", 1e-12);
  within(470e-12, "cable capacitance, whole cable", 1e-12);
  const guitar = circuit([
    source,
    R("r", "in", "x", 6.8e3),
    L("L", "x", "out", 2.6),
    C("C", "out", "0", 570e-12),
    R("volume", "out", "0", 250e3),
    R("amplifier", "out", "0", 1e6),
  ]);
  const {peak} = responseCorners(guitar, "out", {lowHz: 100, highHz: 1e5});
  within(peak.frequencyHz, "resonance with usual cable");
  within(peak.gainDb - dbAt(guitar, 100), "height of the peak");
});

test("the leg's shelf has its corners at 1/(2π(R3+RV1)C3) and 1/(2πR3C3)", () => {
  const stage = circuit([
    source,
    opAmp(["in", "m", "out"]),
    R("RV1", "out", "m", 330050),
    R("R3", "m", "n", 3300),
    C("C3", "n", "0", 68e-9),
  ]);
  const shelf = responseShelf(stage, "out", {lowHz: 1e-4, highHz: 1e8});
  // The ends of the search stand for the levels at 0 and ∞: (f/corner)² = 1e-10 away.
  expect(Math.abs((shelf?.upperHz ?? 0) / (1 / (2 * Math.PI * 3300 * 68e-9)) - 1)).toBeLessThan(1e-8);
  expect(Math.abs((shelf?.lowerHz ?? 0) / (1 / (2 * Math.PI * 333350 * 68e-9)) - 1)).toBeLessThan(1e-8);
  const frequencies = logFrequencies(1e-3, 1e7, 1001);
  const sampled = shelfOf(frequencies, magnitudeDb(frequencyResponse(stage, "out", frequencies)));
  expect(Math.abs((sampled?.upperHz ?? 0) / (shelf?.upperHz ?? 1) - 1)).toBeLessThan(1e-3); // straight lines, 100 points a decade
});

test("the group delay of an RC low-pass is RC/(1 + (f/fc)²)", () => {
  const tau = 1e4 * 1.59e-8;
  const frequencies = logFrequencies(1, 1e5, 50);
  groupDelay(lowPass(1e4, 1.59e-8), "out", frequencies).forEach((seconds, k) => {
    const x = 2 * Math.PI * (frequencies[k] ?? 0) * tau;
    expect(Math.abs(seconds / (tau / (1 + x * x)) - 1)).toBeLessThan(1e-11); // closed form, double precision
  });
});

test("the input impedance of R in front of a grounded C is R + 1/(jωC)", () => {
  const {re, im} = inputImpedance(lowPass(1e4, 1e-8), "in", Float64Array.of(1e3));
  expect(re[0]).toBeCloseTo(1e4, 7);
  expect(im[0]).toBeCloseTo(-1 / (2 * Math.PI * 1e3 * 1e-8), 7);
});

test("a node that leads nowhere but to the source has no end of input impedance", () => {
  const open = circuit([source, R("R", "in", "out", 1e3), R("RL", "load", "0", 1e3)]);
  expect(inputImpedance(open, "in", Float64Array.of(1e3))).toEqual({
    re: Float64Array.of(Infinity),
    im: Float64Array.of(0),
  });
  expect(inputImpedance(open, "load", Float64Array.of(1e3)).re[0]).toBeCloseTo(1e3, 9);
});

test("an inverting stage has −Rf/Rg, and its input meets Rg", () => {
  const stage = circuit([source, R("Rg", "in", "m", 1e3), R("Rf", "m", "out", 10e3), opAmp(["0", "m", "out"])]);
  expect(gainAt(stage, 1e3).re).toBeCloseTo(-10, 11); // check "inv": exact
  expect(inputImpedance(stage, "in", Float64Array.of(1e3)).re[0]).toBeCloseTo(1e3, 9);
});

test("a branch that leads nowhere, behind ten femtofarads, has the voltage of where it hangs", () => {
  // No current flows, so that C, L, R and its end stand at 1 V exactly; 7 Ω has no exact inverse.
  const dangling = circuit([
    source,
    C("C", "in", "a", 1e-14),
    L("L", "a", "b", 1e-6),
    R("R", "b", "out", 7),
    R("RL", "in", "0", 1e3),
  ]);
  for (const hz of [20, 440, 20e3]) {
    const {re, im} = gainAt(dangling, hz);
    expect(Math.hypot(re - 1, im), `${hz} Hz`).toBeLessThan(1e-9); // rounding of 1/7 S beside 1.3e-12 S would leave 1e-5
  }
});
