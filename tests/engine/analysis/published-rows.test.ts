import {expect, test} from "vitest";
import {frequencyResponse, magnitudeDb, phaseDegrees} from "../../../src/engine/analysis/frequency-response.ts";
import {integratedNoise, noiseDensity} from "../../../src/engine/analysis/noise.ts";
import {currentThroughSeries} from "../../../src/engine/analysis/nonlinearities.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {OpAmpModel, Part} from "../../../src/engine/circuit/part.ts";
import {
  capacitor,
  gainStage,
  inputNetwork,
  resistor,
  signalAt,
  toneAndVolume,
} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const noise = published("03_constants_noise");
const filters = published("04_filters_gain");
const diodes = published("05_diodes");
const opAmps = published("06_opamps");
const potentiometers = published("12_potentiometers");

const holdNoise = holder("published-noise", "Johnson, Phys. Rev. 32, 97 (1928); Nyquist, Phys. Rev. 32, 110 (1928)");
const holdFilter = holder("published-filters", "closed forms of linear networks, computed by other means");
const holdLambert = holder("published-lambert", "Corless et al., Adv. Comput. Math. 5 (1996); DLMF 4.13");
const holdOpAmp = holder("published-op-amps", "gain-bandwidth over noise gain; NEETS module 8; TI SLOD006B");
const holdTaper = holder("published-tapers", "Kirchhoff's laws on a loaded potentiometer");

type Point = Readonly<{f: number; dB: number; deg: number}>;

/** Gain and phase at each point of a table, closed forms in double precision on both sides. */
function holdResponse(id: string, of: Circuit, node: string, points: readonly Point[]): void {
  const response = frequencyResponse(
    of,
    node,
    Float64Array.from(points, ({f}) => f),
  );
  const [gainDb, degrees] = [magnitudeDb(response), phaseDegrees(response)];
  points.forEach(({f, dB, deg}, k) => {
    holdFilter(`${id} gain at ${f} Hz`, gainDb[k] ?? Number.NaN, dB, 1e-9);
    holdFilter(`${id} phase at ${f} Hz`, degrees[k] ?? Number.NaN, deg, 1e-9);
  });
}

test("the input network, the gain stage and the tone with volume follow their tables", () => {
  holdResponse(
    "input network",
    circuit([signalAt("g"), ...inputNetwork]),
    "p",
    filters.table("course_input_network_R1_C1_R2") as readonly Point[],
  );
  const stages = filters.table("course_gain_stage_ideal_opamp") as readonly {
    position: number;
    C3: number;
    C4: "absent" | "120p";
    rows: readonly Point[];
  }[];
  expect(stages.length).toBeGreaterThan(10);
  for (const {position, C3, C4, rows} of stages) {
    const parts = gainStage(position, C3, C4 === "absent" ? undefined : 120e-12);
    holdResponse(`gain stage ${position}, ${C3}, ${C4}`, circuit([signalAt("p"), ...parts]), "o", rows);
  }
  const tones = filters.table("course_tone_volume_load_from_ideal_source") as readonly {
    tone: number;
    C6: number;
    volume_fraction: number;
    rows: readonly Point[];
  }[];
  expect(tones.length).toBeGreaterThan(10);
  for (const {tone, C6, volume_fraction: fraction, rows} of tones) {
    const parts = toneAndVolume(tone, C6, fraction);
    holdResponse(`tone ${tone}, ${C6}, ${fraction}`, circuit([signalAt("o"), ...parts]), "out", rows);
  }
});

test("the guitar with its cable follows the table of its six cases", () => {
  const cases = filters.table("pickup_model_response") as readonly {
    case: string;
    peak_Hz: number;
    peak_dB: number;
    minus3dB_re_dc_Hz: number;
    dB: Readonly<Record<string, number>>;
  }[];
  const loads: readonly (readonly [farads: number, ohms?: number])[] = [
    [570e-12],
    [570e-12, 1e6],
    [570e-12, 1.0047e6],
    [100e-12],
    [1100e-12],
    [570e-12, 100e3],
  ];
  expect(cases.length).toBe(loads.length);
  cases.forEach(({case: name, peak_Hz, peak_dB, minus3dB_re_dc_Hz, dB}, k) => {
    const [farads, ohms] = loads[k] ?? [Number.NaN];
    const guitar = circuit([
      signalAt("s"),
      resistor("r", "s", "x", 6.8e3),
      {kind: "inductor", ref: "L", nodes: ["x", "out"], henries: 2.6},
      capacitor("C", "out", "0", farads),
      resistor("volume", "out", "0", 250e3),
      ...(ohms === undefined ? [] : [resistor("load", "out", "0", ohms)]),
    ]);
    const entries = Object.entries(dB);
    const gains = magnitudeDb(
      frequencyResponse(
        guitar,
        "out",
        Float64Array.from(entries, ([hertz]) => Number(hertz)),
      ),
    );
    entries.forEach(([hertz, gain], at) =>
      holdFilter(`pickup, ${name}, at ${hertz} Hz`, gains[at] ?? Number.NaN, gain, 1e-9),
    );
    const {peak} = responseCorners(guitar, "out", {lowHz: 100, highHz: 1e5});
    const atRest = magnitudeDb(frequencyResponse(guitar, "out", Float64Array.of(0)))[0] ?? 0;
    const {high = Number.NaN} = responseCorners(guitar, "out", {lowHz: 100, highHz: 1e5, referenceDb: atRest});
    holdFilter(`pickup, ${name}, peak`, peak.frequencyHz, peak_Hz, 1e-6 * peak_Hz); // a maximum is flat: known to about 1e-8
    holdFilter(`pickup, ${name}, height`, peak.gainDb, peak_dB, 1e-9);
    holdFilter(`pickup, ${name}, corner`, high, minus3dB_re_dc_Hz, 1e-6 * minus3dB_re_dc_Hz); // its 0 Hz is a very low frequency
  });
});

test("dividers with and without load have the ratios of the table", () => {
  for (const {R1, R2, RL, ratio} of filters.table("loaded_dividers") as readonly {
    R1: number;
    R2: number;
    RL: number | null;
    ratio: number;
  }[]) {
    const load = RL === null ? [] : [resistor("RL", "out", "0", RL)];
    const divider = circuit([signalAt("in"), resistor("R1", "in", "out", R1), resistor("R2", "out", "0", R2), ...load]);
    const ours = frequencyResponse(divider, "out", Float64Array.of(1e3)).re[0] ?? Number.NaN;
    holdFilter(`divider ${R1}, ${R2}, ${RL}`, ours, ratio, 1e-12 * ratio);
  }
});

/** Series R and L, C across the output: second-order low-pass at `f0` with `quality`; or with C and L changed over, high-pass. */
function secondOrder(quality: number, highPass: boolean): Circuit {
  const radians = 2 * Math.PI * 1e3;
  const [henries, farads] = [1 / radians, 1 / radians]; // 1 Ω each at 1 kHz
  const L = (a: string, b: string): Part => ({kind: "inductor", ref: "L", nodes: [a, b], henries});
  return circuit([
    signalAt("in"),
    resistor("R", "in", "a", 1 / quality),
    ...(highPass
      ? [capacitor("C", "a", "out", farads), L("out", "0")]
      : [L("a", "out"), capacitor("C", "out", "0", farads)]),
  ]);
}

test("second-order sections follow the table, and Butterworth's is 3 dB down at its corner", () => {
  const rows = filters.table("second_order") as readonly {
    Q: number;
    lp_minus3dB_f_over_f0: number;
    values: readonly Readonly<{x: number; lp_dB: number; lp_deg: number; hp_dB: number}>[];
  }[];
  for (const {Q, lp_minus3dB_f_over_f0: corner, values} of rows) {
    const at = Float64Array.from(values, ({x}) => 1e3 * x);
    const low = frequencyResponse(secondOrder(Q, false), "out", at);
    const [lowDb, lowDegrees] = [magnitudeDb(low), phaseDegrees(low)];
    const highDb = magnitudeDb(frequencyResponse(secondOrder(Q, true), "out", at));
    values.forEach(({x, lp_dB, lp_deg, hp_dB}, k) => {
      holdFilter(`Q ${Q} low-pass at ${x}`, lowDb[k] ?? Number.NaN, lp_dB, 1e-9);
      holdFilter(`Q ${Q} low-pass phase at ${x}`, lowDegrees[k] ?? Number.NaN, lp_deg, 1e-9);
      holdFilter(`Q ${Q} high-pass at ${x}`, highDb[k] ?? Number.NaN, hp_dB, 1e-9);
    });
    const {high = Number.NaN} = responseCorners(secondOrder(Q, false), "out", {referenceDb: 0, lowHz: 1, highHz: 1e6});
    holdFilter(`Q ${Q} corner`, high / 1e3, corner, 1e-8); // the search's own stop, 1e-9
  }
  const butterworth = secondOrder(Math.SQRT1_2, false);
  const gain = magnitudeDb(frequencyResponse(butterworth, "out", Float64Array.of(1e3, 1e8, 2e8)));
  filters.check("butter2", [gain[0], (gain[1] ?? 0) - (gain[2] ?? 0)], 1e-9);
});

test("Lambert's function, read back from a diode behind a resistor, has the published values", () => {
  // With n·VT = R = 1: i = W(Is·exp(v + Is)) − Is, so that v = ln(x/Is) − Is gives W(x).
  const lambert = (x: number, Is: number) => currentThroughSeries(Math.log(x / Is) - Is, Is, 1, 1) + Is;
  for (const [id, x] of [
    ["W.0.001", 0.001],
    ["W.0.01", 0.01],
    ["W.0.1", 0.1],
    ["W.1", 1],
    ["W.e", Math.E],
    ["W.10", 10],
    ["W.1000", 1000],
    ["W.1e10", 1e10],
    ["W.1e100", 1e100],
    ["W.0.01.pub", 0.01],
    ["omega.const", 1],
  ] as const) {
    const expected = Number(diodes.expected(id));
    const tolerance = id === "W.0.01.pub" ? 5e-9 : 1e-12 * expected; // the rows' own
    holdLambert(id, lambert(x, Math.min(x / 2, 0.5)), expected, id === "omega.const" ? 4e-15 : tolerance); // its 1e-15 is 5 roundings of W alone; ours has a logarithm too
  }
});

test("forward voltage grows 104 mV a decade, and a diode's slope is the published one", () => {
  const {saturationCurrent: Is, emissionCoefficient: n, thermalVoltage: VT} = diodeModels.silicon;
  holdLambert("decade", n * VT * Math.LN10, Number(diodes.expected("decade")), 1e-12);
  holdLambert("r0", (n * VT) / (2 * Is), Number(diodes.expected("r0")), 1e-12 * 9e6);
});

test("noise bandwidth, worked examples and an amplifier's total noise come out as printed", () => {
  const resistorAlone = (ohms: number) => circuit([resistor("R", "out", "0", ohms)]);
  const volts = (id: string, ohms: number, highHz: number, rel: number) => {
    const expected = Number(noise.expected(id));
    const band = integratedNoise(resistorAlone(ohms), "out", {temperatureKelvin: 300, lowHz: 1e-6, highHz});
    holdNoise(id, band.volts, expected, rel * expected);
  };
  // Tolerances are the rows': the first calculates with k = 1.38e-23, the second is rounded to one figure.
  volts("johnson.100k.1MHz", 1e5, 1e6, 5e-4);
  volts("johnson.1k.10kHz", 1e3, 1e4, 0.03);
  const density = (ohms: number) =>
    1e9 *
    (noiseDensity(resistorAlone(ohms), "out", Float64Array.of(1e3), {temperatureKelvin: 300}).density[0] ?? Number.NaN);
  holdNoise("johnson.rule", density(1), Number(noise.expected("johnson.rule")), 0.002);
  holdNoise("johnson.50R", density(50), Number(noise.expected("johnson.50R")), 0.12);
  for (const row of noise.table("johnson_density_nV_per_rtHz") as readonly {R: number; nV_300K: number}[])
    holdNoise(`johnson ${row.R} Ω`, density(row.R), row.nV_300K, 1e-9 * row.nV_300K); // the same closed form
  const follower = (en: number, in_: number, Rs: number) =>
    circuit([
      resistor("Rs", "p", "0", Rs),
      {
        kind: "op-amp",
        ref: "U",
        nodes: ["p", "out", "out"],
        model: {...opAmpModels.ideal, voltageNoise: en, currentNoise: in_},
      },
    ]);
  for (const {en, in_, Rs, T, total_nV} of noise.table("total_input_noise_examples") as readonly Readonly<
    Record<"en" | "in_" | "Rs" | "T" | "total_nV", number>
  >[]) {
    const ours =
      1e9 *
      (noiseDensity(follower(en, in_, Rs), "out", Float64Array.of(1e3), {temperatureKelvin: T}).density[0] ??
        Number.NaN);
    holdNoise(`amplifier ${en}, ${in_}, ${Rs} Ω`, ours, total_nV, 1e-9 * total_nV); // the same sum of squares
  }
});

const withGain = (gainBandwidthHz: number, openLoopGain = Infinity): OpAmpModel => ({
  ...opAmpModels.ideal,
  name: "test",
  openLoopGain,
  gainBandwidthHz,
});

test("closed-loop bandwidth is gain-bandwidth over noise gain, for every row", () => {
  const bandwidth = (model: OpAmpModel, Rf: number, Rg: number) =>
    responseCorners(
      circuit([
        signalAt("p"),
        {kind: "op-amp", ref: "U", nodes: ["p", "m", "out"], model},
        resistor("Rf", "out", "m", Rf),
        resistor("Rg", "m", "0", Rg),
      ]),
      "out",
      {lowHz: 0.01},
    ).high ?? Number.NaN;
  for (const id of ["0.7_MHz", "2.2", "3", "4", "8", "10"]) {
    const expected = Number(opAmps.expected(`bw101.${id}`));
    holdOpAmp(`bw101.${id}`, bandwidth(withGain(1e6 * Number.parseFloat(id)), 330050, 3300), expected, 1e-8 * expected); // 1e-9, and the level at rest read at 0.01 Hz
  }
  for (const [id, Rf] of [
    ["gbw.neets.gain100", 99e3],
    ["gbw.neets.gain10", 9e3],
  ] as const) {
    const expected = Number(filters.expected(id));
    holdOpAmp(id, bandwidth(withGain(1e6), Rf, 1e3), expected, 1e-8 * expected);
  }
});

test("a follower goes on following up to its full-power bandwidth, and lags behind beyond it", () => {
  // Slew rate over 2π·peak: at half of it the output is nearly whole, at twice it a triangle of SR/(4f) remains.
  for (const {id, inputs} of opAmps.rows("fullpower.")) {
    const slew = 1e6 * Number(inputs["SR_V_per_us"]);
    const limits = opAmps.expected(id) as readonly number[];
    [0.5, 1, 4].forEach((peakVolts, k) => {
      const limitHz = limits[k] ?? Number.NaN;
      const model = {...withGain(100 * limitHz, 1e6), slewVoltsPerSecond: slew};
      const follower = circuit([signalAt("p"), {kind: "op-amp", ref: "U", nodes: ["p", "out", "out"], model}]);
      const steepest = (frequencyHz: number) => {
        const cycle = steadyCycle(follower, {frequencyHz, peakVolts}, ["out"], 256).at.get("out") ?? new Float64Array();
        return {
          fundamental: harmonicsOf(cycle, 1).amplitude[1] ?? Number.NaN,
          slope: Math.max(...cycle.map((v, n) => v - (cycle.at(n - 1) ?? 0))) * 256 * frequencyHz,
        };
      };
      expect(steepest(limitHz / 2).fundamental / peakVolts, id).toBeGreaterThan(0.99); // half the slope: it follows
      // Driven four times too fast it runs at its slew rate, all but the rounding of tanh near the turns.
      holdOpAmp(
        `${id}, ${peakVolts} V`,
        steepest(4 * limitHz).slope / (2 * Math.PI * peakVolts),
        limitHz,
        0.01 * limitHz,
      );
    });
  }
});

test("a linear potentiometer with a load has the published ratio and taper", () => {
  const ratio = (k: number) => {
    const pot: Part = {
      kind: "potentiometer",
      ref: "RV",
      nodes: ["in", "out", "0"],
      ohms: 1e4,
      position: 0.5,
      taper: "linear",
    };
    const loaded = circuit([signalAt("in"), pot, resistor("RL", "out", "0", k * 1e4)]);
    return frequencyResponse(loaded, "out", Float64Array.of(1e3)).re[0] ?? Number.NaN;
  };
  holdTaper("taper.loaded", ratio(0.125), Number(potentiometers.expected("taper.loaded")), 1e-12);
  const factors = potentiometers.expected("taper.loaded.k") as readonly number[];
  [0.1, 0.15, 0.2].forEach((middle, at) =>
    holdTaper(`taper.loaded.k ${middle}`, ratio(factors[at] ?? Number.NaN), middle, 1e-12),
  );
});
