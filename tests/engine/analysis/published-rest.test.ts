import {expect, test} from "vitest";
import {frequencyResponse, magnitude} from "../../../src/engine/analysis/frequency-response.ts";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {levelSweep} from "../../../src/engine/analysis/level-sweep.ts";
import {integratedNoise} from "../../../src/engine/analysis/noise.ts";
import {boltzmann, elementaryCharge} from "../../../src/engine/analysis/noise-sources.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {thermalVoltage} from "../../../src/engine/circuit/models/diodes.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {capacitor, gainStage, pair, resistor, signalAt} from "../../reference-cases/course-stages.ts";
import {published} from "../../reference-cases/published.ts";

// Rows that no other test takes up. Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const noise = published("03_constants_noise");
const filters = published("04_filters_gain");
const diodes = published("05_diodes");
const fourier = published("07_fourier_thd");
const pickups = published("17_pickups");
const cycles = published("18_time_domain_reference");

test("thermal voltages are kT/q, and the course's constant belongs to 300 K", () => {
  for (const {id, inputs} of noise.rows("VT.")) {
    const kelvin = Number(inputs["T_K"]);
    if (Number.isFinite(kelvin)) noise.check(id, (boltzmann * kelvin) / elementaryCharge);
  }
  noise.check("VT.course", (thermalVoltage * elementaryCharge) / boltzmann);
});

test("an RC low-pass lets through the noise of π/2 times its corner", () => {
  const lowPass = circuit([signalAt("s"), resistor("R", "s", "out", 1e4), capacitor("C", "out", "0", 1e-8)]);
  const corner = 1 / (2 * Math.PI * 1e4 * 1e-8);
  const {volts} = integratedNoise(lowPass, "out", {lowHz: corner * 1e-5, highHz: corner * 1e5});
  // Both ends together leave 2·1e-5 of π/2·corner out.
  noise.check("enb.rc", volts ** 2 / (4 * boltzmann * 300 * 1e4) / corner, 3e-5);
});

test("an RC low-pass rises as 1 − exp(−t/τ): at 1, 2, 3, 5 τ, and from 10 to 90 %", () => {
  const perTau = 1000;
  const rate = perTau / (1e4 * 1e-8);
  const lowPass = circuit([signalAt("s"), resistor("R", "s", "out", 1e4), capacitor("C", "out", "0", 1e-8)]);
  const step = timeResponse(lowPass, "out", new Float64Array(6 * perTau).fill(1, 1), rate, {oversampling: 1});
  /** Volts t after the step, which begins half a sample before the first that is 1 V. */
  const at = (tau: number) => {
    const place = tau * perTau + 0.5;
    const [before, after] = [step[Math.floor(place)] ?? NaN, step[Math.floor(place) + 1] ?? NaN];
    return before + (place - Math.floor(place)) * (after - before);
  };
  // Trapezoidal rule: (h/τ)²/12 = 8e-8; straight lines between samples: (h/τ)²/8.
  filters.check("step.1tau", [1, 2, 3, 5].map(at), 1e-6);
  const crossing = (level: number) => {
    const k = step.findIndex((volts) => volts >= level);
    const [before, after] = [step[k - 1] ?? NaN, step[k] ?? NaN];
    return (k - 1 + (level - before) / (after - before)) / rate;
  };
  const rise = crossing(0.9) - crossing(0.1);
  filters.check("rise", rise / (1e4 * 1e-8), 1e-5); // likewise
  filters.check("rise.bw", rise * (responseCorners(lowPass, "out", {referenceDb: 0}).high ?? NaN), 1e-5);
});

test("an op-amp alone has its corner at gain-bandwidth over open-loop gain", () => {
  const model = {
    name: "test",
    openLoopGain: 1e5,
    gainBandwidthHz: 1e6,
    inputOhms: Infinity,
    outputOhms: 0,
    source: "test",
  };
  const open = circuit([signalAt("p"), {kind: "op-amp", ref: "U", nodes: ["p", "0", "out"], model}]);
  filters.check("gbw.neets.open", responseCorners(open, "out", {lowHz: 0.01, referenceDb: 100}).high, 1e-7);
});

test("a current through the course's diode makes the published voltage and slope", () => {
  const [diode] = pair("d", "0");
  const rows = diodes.table("shockley_I_to_V") as readonly {I: number; V: number; rd: number}[];
  expect(rows.length).toBeGreaterThan(10);
  for (const {I, V, rd} of rows) {
    const driven = circuit([{kind: "current source", ref: "I", nodes: ["0", "d"], amperes: I}, diode as Part]);
    const volts = restVoltage(operatingPoint(driven), "d");
    expect(Math.abs(volts / V - 1), `${I} A`).toBeLessThan(1e-9); // closed form, read backwards by Newton
    const slope = outputImpedance(driven, "d", Float64Array.of(1)).re[0] ?? NaN;
    expect(Math.abs(slope / rd - 1), `${I} A`).toBeLessThan(1e-8); // the slope at that voltage: V/nVT times its error
  }
  const at = (amperes: number) =>
    restVoltage(
      operatingPoint(circuit([{kind: "current source", ref: "I", nodes: ["0", "d"], amperes}, diode as Part])),
      "d",
    );
  for (const [id, amperes] of [
    ["model.vs.ds.5mA", 5e-3],
    ["model.vs.ds.10mA", 10e-3],
  ] as const) {
    const [least = NaN, most = NaN] = diodes.range(id);
    expect(at(amperes)).toBeGreaterThan(least);
    expect(at(amperes)).toBeLessThan(most);
    expect(at(amperes)).toBeCloseTo(Number(diodes.expected(id)), 9);
  }
});

test("however hard it is driven, the clipping stage gives no less than its input", () => {
  const ratio = (volts: number) => {
    const stage = circuit([signalAt("p", volts), ...gainStage(1, undefined, undefined), ...pair("o", "m")]);
    return restVoltage(operatingPoint(stage), "o") / volts;
  };
  const ratios = [0.1, 1, 10, 100].map(ratio);
  ratios.forEach((each, k) => {
    expect(each).toBeGreaterThan(1);
    if (k > 0) expect(each).toBeLessThan(ratios[k - 1] ?? NaN);
  });
  // The row's limit: the diodes' volt, one in a hundred.
  expect(Math.abs((ratios[3] ?? NaN) - Number(diodes.expected("feedback.floor")))).toBeLessThan(0.02);
});

test("rectified sines have their distortion, and the two definitions convert", () => {
  const terms = 200_000; // each falls with 1/k²: the squares left out are 1e-16 of the sum
  const half = Float64Array.from({length: terms}, (_, k) =>
    k === 0 ? 1 / Math.PI : k === 1 ? 0.5 : k % 2 ? 0 : 2 / (Math.PI * (k * k - 1)),
  );
  const full = Float64Array.from({length: terms}, (_, k) => (k === 0 ? 2 / Math.PI : 4 / (Math.PI * (4 * k * k - 1))));
  for (const [id, amplitude] of [
    ["halfwave", half],
    ["fullwave", full],
  ] as const) {
    const {ofFundamental, ofTotal} = harmonicDistortion({amplitude, phaseDegrees: amplitude});
    fourier.check(`thd.${id}_rectified_sine`, [ofFundamental, ofTotal]);
  }
  const ofTotal = (ofFundamental: number) => {
    const amplitude = Float64Array.of(0, 1, ofFundamental);
    return harmonicDistortion({amplitude, phaseDegrees: amplitude}).ofTotal;
  };
  fourier.check("thd.convert", [0.1, Number((fourier.expected("thd.square") as readonly number[])[0]), 1].map(ofTotal));
});

type OneSided = Readonly<{upper_limit: number; dc: number; harmonic_amplitudes: readonly number[]; THD_F: number}>;
test.each(fourier.table("one_sided_clip") as readonly OneSided[])(
  "a sine clipped on one side at $upper_limit has its steady part and harmonics",
  ({upper_limit, dc, harmonic_amplitudes}) => {
    const cycle = Float64Array.from({length: 65536}, (_, n) =>
      Math.min(upper_limit, Math.sin((2 * Math.PI * n) / 65536)),
    );
    const {amplitude} = harmonicsOf(cycle, harmonic_amplitudes.length);
    // Corners fold as 1/n²: 65536 points leave about 1e-9.
    expect(Math.abs((amplitude[0] ?? NaN) - dc)).toBeLessThan(1e-8);
    harmonic_amplitudes.forEach((wanted, k) => expect(Math.abs((amplitude[k + 1] ?? NaN) - wanted)).toBeLessThan(1e-8));
  },
);

type Resonance = Readonly<Record<"L" | "Rp" | "Ctotal" | "Rload" | "f_peak" | "peak_dB_re_DC" | "dc_dB", number>>;
test.each(pickups.table("resonance_examples") as readonly Resonance[])(
  "a pickup of $L H with $Ctotal F peaks at $f_peak Hz",
  ({L, Rp, Ctotal, Rload, f_peak, peak_dB_re_DC, dc_dB}) => {
    const guitar = circuit([
      signalAt("s"),
      resistor("Rp", "s", "x", Rp),
      {kind: "inductor", ref: "L", nodes: ["x", "out"], henries: L},
      capacitor("C", "out", "0", Ctotal),
      resistor("R", "out", "0", Rload),
    ]);
    const {peak} = responseCorners(guitar, "out", {lowHz: 100, highHz: 1e5});
    const steady = 20 * Math.log10(magnitude(frequencyResponse(guitar, "out", Float64Array.of(0)))[0] ?? NaN);
    expect(Math.abs(peak.frequencyHz / f_peak - 1)).toBeLessThan(1e-5); // a maximum is flat: known to the root of its height's digits
    expect(peak.gainDb - steady).toBeCloseTo(peak_dB_re_DC, 8); // closed form of a second-order network
    expect(steady).toBeCloseTo(dc_dB, 9);
  },
);

test("at a millivolt the clipping stage is nearly linear", () => {
  type Row = Readonly<{position: number; gain: number; THD_F: number; linearised_gain_with_r0: number}>;
  const rows = cycles.table("small_signal") as readonly Row[];
  expect(rows).toHaveLength(3);
  for (const {position, gain, THD_F, linearised_gain_with_r0} of rows) {
    // The table's stage at 440 Hz: its linear gain, to all digits, is that of C3 68 nF and C4 120 pF there.
    const stage = circuit([signalAt("p"), ...gainStage(position, 68e-9, 120e-12), ...pair("o", "m")]);
    const linear = magnitude(frequencyResponse(stage, "o", Float64Array.of(440)))[0] ?? NaN;
    expect(Math.abs(linear / linearised_gain_with_r0 - 1)).toBeLessThan(1e-11);
    const {gainDb, distortion} = levelSweep(stage, "o", 440, Float64Array.of(1e-3));
    expect(Math.abs(10 ** ((gainDb[0] ?? NaN) / 20) / gain - 1)).toBeLessThan(1e-6); // the tables' own tolerance for cycles
    expect(Math.abs((distortion[0] ?? NaN) - THD_F)).toBeLessThan(1e-6);
    expect(distortion[0]).toBeLessThan(cycles.most("td.linear.limit"));
  }
});
