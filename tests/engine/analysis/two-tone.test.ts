import {expect, test} from "vitest";
import {frequencyResponse} from "../../../src/engine/analysis/frequency-response.ts";
import {commonRateHz, twoTone, type Product} from "../../../src/engine/analysis/two-tone.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, driveOf} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {capacitor, gainStage, pair, resistor, signalAt} from "../../reference-cases/course-stages.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";
import {worstRows} from "../../reference-cases/worst-rows.ts";

const record = accuracyTable("two-tone");

const complexOf = (amplitude: number, radians: number) => [
  amplitude * Math.cos(radians),
  amplitude * Math.sin(radians),
];
const apart = ([a = NaN, b = NaN]: readonly number[], [c = NaN, d = NaN]: readonly number[]) =>
  Math.hypot(a - c, b - d);
const inPlane = ({amplitude, phaseDegrees}: Product) => complexOf(amplitude, (phaseDegrees * Math.PI) / 180);
const line = (products: readonly Product[], low: number, high: number): Product => {
  const found = products.find((each) => each.low === low && each.high === high);
  if (found === undefined) throw new Error(`no product ${low}·low + ${high}·high`);
  return found;
};

// Source: tests/reference/independent/05: the stage's equation by three-stage Radau IIA of order 5, the network after it bin by bin.
const cases = casesOfKind("periodic_steady_state").filter((each) => driveOf(each).form === "two sines");

/** A cycle between two of its steps: the polynomial through the eight around, Lagrange's. */
function between(cycle: Float64Array, step: number): number {
  const first = Math.floor(step) - 3;
  let sum = 0;
  for (let i = 0; i < 8; i++) {
    let weight = 1;
    for (let k = 0; k < 8; k++) if (k !== i) weight *= (step - first - k) / (i - k);
    sum += weight * (cycle[(first + i + cycle.length) % cycle.length] ?? NaN);
  }
  return sum;
}

type Wanted = Readonly<{a: number; b: number; freq_hz: number; magnitude: number; phase_rad: number | null}>;

eachCase("two tones settle as published", cases, (given) => {
  const {id} = given;
  const drive = driveOf(given);
  if (drive.form !== "two sines") throw new Error(`${id}: not two sines`);
  const [lowPeakVolts, highPeakVolts] = drive.peaksVolts;
  const [lowHz, highHz] = drive.frequenciesHz;
  const output = probeNode(given);
  const stepsPerCycle = 1200;
  const tones = {lowHz, highHz, lowPeakVolts, highPeakVolts};
  const ours = twoTone(readCircuit(given), output, tones, {stepsPerCycle});
  expect(ours.commonHz).toBeCloseTo(1 / Number(given.analysis["period_s"]), 12);

  const waveform = numbers(id, given.expected["waveform_out"]);
  const peak = Number(given.expected["peak_out"]);
  // The case's own figure for a converged step.
  const tolerance = Number(given.tolerance["fine_rel"]);
  expect(tolerance).toBeGreaterThan(0);
  const rows = worstRows(record);
  const hold = (what: string, wanted: number, got: number, difference: number, size: number) => {
    rows.keep(what.split(" ")[0] ?? "", {
      id: `${id} ${what}`,
      source: given.title,
      expected: wanted,
      ours: got,
      difference,
      tolerance: tolerance * size,
    });
    expect(difference, `${id} ${what}`).toBeLessThanOrEqual(tolerance * size);
  };
  const apartSteps = Number(given.analysis["sample_spacing_s"]) * ours.cycle.length * ours.commonHz;
  waveform.forEach((volts, n) => {
    const got = between(ours.cycle, n * apartSteps);
    hold(`point ${n}`, volts, got, Math.abs(got - volts), peak);
  });
  const wanted = given.expected["products"] as readonly Wanted[];
  const largest = Math.max(...wanted.map(({magnitude}) => magnitude));
  expect(ours.products.length).toBe(wanted.length);
  for (const {a, b, freq_hz, magnitude, phase_rad} of wanted) {
    const found = line(ours.products, a, b);
    expect(found.frequencyHz).toBeCloseTo(freq_hz, 9);
    const difference =
      phase_rad === null
        ? Math.abs(found.amplitude - magnitude)
        : apart(inPlane(found), complexOf(magnitude, phase_rad));
    hold(`product ${a}, ${b}`, magnitude, found.amplitude, difference, largest);
  }
  const rms = Math.sqrt(ours.cycle.reduce((sum, volts) => sum + volts * volts, 0) / ours.cycle.length);
  const rmsWanted = Number(given.expected["rms_out"]);
  hold("RMS", rmsWanted, rms, Math.abs(rms - rmsWanted), rmsWanted);
  const highest = ours.cycle.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);
  // The reference's own peak is that of microsecond steps: a wave whose top bends like 1 kHz lies (2π·1 kHz·h)²/8 above its steps.
  const missed = ((2 * Math.PI * 1000) / (ours.commonHz * ours.cycle.length)) ** 2 / 8;
  hold("peak", peak, highest, Math.max(0, Math.abs(highest - peak) - missed * peak), peak);
});

test("a linear circuit answers two tones with these two alone, each as its frequency response says", () => {
  const linear = circuit([signalAt("p"), ...gainStage(0.5, 68e-9, 120e-12)]);
  const {products, commonHz} = twoTone(
    linear,
    "o",
    {lowHz: 330, highHz: 440, lowPeakVolts: 0.02, highPeakVolts: 0.01},
    {order: 3},
  );
  expect(commonHz).toBe(110);
  for (const [low, high, hz, volts] of [
    [1, 0, 330, 0.02],
    [0, 1, 440, 0.01],
  ] as const) {
    const {re, im} = frequencyResponse(linear, "o", Float64Array.of(hz));
    // The tones are sines, the lines cosines: a quarter turn back, −j·H.
    const wanted = [volts * (im[0] ?? NaN), -volts * (re[0] ?? NaN)];
    // Radau's third order at 512 steps a cycle: (2π/512)³/72, 3e-8 of the line.
    expect(apart(inPlane(line(products, low, high)), wanted)).toBeLessThan(1e-7 * Math.hypot(...wanted));
  }
  for (const {order, amplitude} of products) if (order > 1) expect(amplitude).toBeLessThan(1e-9); // rounding of some 0.5 V
});

test("the third-order product of a quiet pair in a diode limiter is ¾·k3·A1²·A2", () => {
  // v + R·2·Is·sinh(v/(n·VT)) = u, turned round: v = u/(1 + a) − c·u³/(1 + a)⁴ + …, a = 2·R·Is/(n·VT), c = R·Is/(3·(n·VT)³).
  const [R, Is, nVT] = [100e3, 2.52e-9, 1.752 * 0.025852];
  const limiter = circuit([signalAt("s"), resistor("R", "s", "d", R), ...pair("d", "0")]);
  const [a, c] = [(2 * R * Is) / nVT, (R * Is) / (3 * nVT ** 3)];
  const [A1, A2] = [1e-3, 0.5e-3];
  const {products, intermodulation} = twoTone(limiter, "d", {
    lowHz: 190,
    highHz: 200,
    lowPeakVolts: A1,
    highPeakVolts: A2,
  });
  const k3 = c / (1 + a) ** 4;
  const at = (low: number, high: number) => line(products, low, high).amplitude;
  // The next term of the series is (A/nVT)²/10 of it, 5e-5 at 1 mV.
  expect(Math.abs(at(2, -1) / (0.75 * k3 * A1 ** 2 * A2) - 1)).toBeLessThan(1e-4);
  expect(Math.abs(at(-1, 2) / (0.75 * k3 * A1 * A2 ** 2) - 1)).toBeLessThan(1e-4);
  expect(Math.abs((at(0, 1) * (1 + a)) / A2 - 1)).toBeLessThan(1e-4); // the tone itself loses (A/nVT)²/8 of a
  expect(intermodulation.differenceThird).toBeCloseTo((at(2, -1) + at(-1, 2)) / (2 * at(0, 1)), 12); // its definition
  expect(at(-1, 1)).toBeLessThan(1e-13); // matched diodes make no even products: rounding of a millivolt
});

test("one diode alone makes the difference tone k2·A1·A2", () => {
  // v + R·Is·(exp(v/nVT) − 1) = u: v = u/(1 + a) − c2·u²/(1 + a)³, a = R·Is/nVT, c2 = R·Is/(2·nVT²).
  const [R, Is, nVT] = [100e3, 2.52e-9, 1.752 * 0.025852];
  const [diode] = pair("d", "0");
  if (diode === undefined) throw new Error("a pair has two diodes");
  const one = circuit([signalAt("s"), resistor("R", "s", "d", R), diode]);
  const [a, c2] = [(R * Is) / nVT, (R * Is) / (2 * nVT ** 2)];
  const A = 1e-3;
  const {products, intermodulation} = twoTone(one, "d", {lowHz: 110, highHz: 165, lowPeakVolts: A, highPeakVolts: A});
  const difference = line(products, -1, 1).amplitude;
  // 110 and 165 Hz: the difference, 55 Hz, is also 2·110 − 165, a fourth of (A/nVT) smaller; and the next even term is (A/nVT)²/4.
  const third = (0.75 * ((R * Is) / (6 * nVT ** 3)) * A ** 3) / (1 + a) ** 4;
  expect(Math.abs(difference - (c2 / (1 + a) ** 3) * A * A)).toBeLessThan(1.2 * third + 1e-3 * difference);
  expect(intermodulation.differenceSecond).toBeCloseTo(difference / (2 * line(products, 0, 1).amplitude), 12); // its definition
});

test("the clipping stage of lesson 12 makes more intermodulation with the larger leg capacitor", () => {
  const third = (settings: Readonly<Record<string, number>>) => {
    const {circuit: bench, listenAt} = courseCircuit({
      lesson: 12,
      settings: {...startSetting(12).settings, ...settings},
    });
    const tones = {lowHz: 110, highHz: 165, lowPeakVolts: 0.05, highPeakVolts: 0.05};
    return twoTone(bench, listenAt, tones, {order: 3, stepsPerCycle: 256}).intermodulation;
  };
  // Common practice, no published source: a leg capacitor several times larger adds bass ahead of the clipping, and with it this.
  expect(third({C3: 330e-9}).modulationThird).toBeGreaterThan(third({C3: 68e-9}).modulationThird);
});

test("a capacitor that a diode charges and nothing empties settles to what the diode leaks no more", () => {
  const [diode] = pair("d", "c");
  if (diode === undefined) throw new Error("a pair has two diodes");
  // A light-emitting diode leaks 3e-24 A back: in no time that anybody waits.
  const led = {...diode, model: {...diodeModels.blueLed, seriesOhms: 0}} as Part;
  const peak = circuit([signalAt("s"), resistor("R", "s", "d", 1e3), led, capacitor("C", "c", "0", 1e-6)]);
  const tones = {lowHz: 110, highHz: 220, lowPeakVolts: 2, highPeakVolts: 2};
  const {cycle} = twoTone(peak, "c", tones, {order: 2, stepsPerCycle: 128});
  const [lowest, highest] = [Math.min(...cycle), Math.max(...cycle)];
  expect(highest - lowest).toBeLessThan(1e-9); // 1e-10 of some volts of it
  // The sum of both sines peaks at 1.76 of each; at 3e-24 A and n·VT = 65 mV a pA takes 1.7 V of that.
  expect(highest).toBeGreaterThan(1.5);
  expect(highest).toBeLessThan(3.53);
});

test("what hangs on 60 pF alone keeps its charge beside half an ohm, cycle after cycle", () => {
  const parts = [
    signalAt("s", 20),
    resistor("R", "s", "a", 1),
    capacitor("C", "a", "b", 60e-12),
    resistor("R2", "b", "c", 0.5),
  ];
  const tones = {lowHz: 110, highHz: 220, lowPeakVolts: 0.1, highPeakVolts: 0.1};
  const options = {order: 2, stepsPerCycle: 128};
  const at = (node: string) => twoTone(circuit(parts), node, tones, options).cycle;
  const [before, behind] = [at("a"), at("c")];
  const apart = behind.map((volts, n) => volts - (before[n] ?? NaN));
  // The last digit of 20 V at each of 512 stages.
  expect(Math.max(...apart) - Math.min(...apart)).toBeLessThan(512 * Number.EPSILON * 20);
});

test("tones that make no pair are refused with what to write instead", () => {
  const rc = circuit([signalAt("s"), resistor("R", "s", "d", 1e3), capacitor("C", "d", "0", 1e-7)]);
  const tones = {lowHz: 110, highHz: 165, lowPeakVolts: 1, highPeakVolts: 1};
  expect(commonRateHz(60, 7000)).toBe(20);
  expect(commonRateHz(82.5, 110)).toBe(27.5);
  expect(() => twoTone(rc, "d", {...tones, highHz: 164.81})).toThrow(
    "110 Hz and 164.81 Hz repeat too seldom; choose two whole numbers of hertz with a common divisor, such as 110 Hz and 160 Hz",
  );
  expect(() => twoTone(rc, "d", {...tones, lowHz: 165})).toThrow(
    "two tones need ascending frequencies from above 0 Hz, got 165 Hz and 165 Hz",
  );
  expect(() => twoTone(rc, "d", {...tones, lowPeakVolts: 0})).toThrow(
    "two tones need two positive levels, got 0 V and 1 V",
  );
  expect(() => twoTone(rc, "e", tones)).toThrow('no part touches node "e"; the nodes are 0, s, d');
});
