import {expect, test} from "vitest";
import {frequencyResponse, magnitudeDb, phaseDegrees} from "../../../src/engine/analysis/frequency-response.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {stepModel} from "../../../src/engine/realtime/derive-step.ts";
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
const filters = published("04_filters_gain");
const potentiometers = published("12_potentiometers");

const holdFilter = holder("published-filters", "closed forms of linear networks, computed by other means");
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

type Bilinear = Readonly<{fc: number; fs: number; b: readonly number[]; a: readonly number[]; dB_at_fc: number}>;

test("an RC low-pass stepped by the trapezoidal rule is the published filter of the bilinear transform", () => {
  const rows = filters.table("bilinear_prewarped_first_order_lowpass_48k") as readonly Bilinear[];
  expect(rows.length).toBeGreaterThan(4);
  for (const {
    fc,
    fs,
    b: [b0 = NaN, b1 = NaN],
    a: [, a1 = NaN],
    dB_at_fc,
  } of rows) {
    // The analogue corner that the rule's warp brings to fc.
    const corner = (fs / Math.PI) * Math.tan((Math.PI * fc) / fs);
    const equations = stamps(
      circuit([
        signalAt("in"),
        resistor("R", "in", "out", 1 / (2 * Math.PI * corner * 1e-8)),
        capacitor("C", "out", "0", 1e-8),
      ]),
    );
    const stepper = blockStepper(stepModel(equations, [equations.unknownOf.get("out") ?? -1], fs, "trapezoidal"));
    const click = new Float64Array(48_000).fill(1, 0, 1);
    const answer = new Float64Array(click.length);
    expect(stepper.run(click, answer)).toBe(0);
    const second = b1 - a1 * b0;
    [b0, second, -a1 * second, a1 * a1 * second].forEach(
      (wanted, n) => holdFilter(`bilinear ${fc} Hz, sample ${n}`, answer[n] ?? NaN, wanted, 1e-14), // two roundings of numbers below 1
    );
    const sum = (shape: (angle: number) => number) =>
      answer.reduce((total, value, n) => total + value * shape((2 * Math.PI * fc * n) / fs), 0);
    // A second of the click's answer: at 20 Hz what is left is e^−126.
    holdFilter(`bilinear ${fc} Hz, gain`, 20 * Math.log10(Math.hypot(sum(Math.cos), sum(Math.sin))), dB_at_fc, 1e-9);
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
