import {expect, test} from "vitest";
import {crestFactorDb, rms} from "../../../src/engine/analysis/crest.ts";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {intermodulationOf} from "../../../src/engine/analysis/intermodulation.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {published} from "../../reference-cases/published.ts";

const record = accuracyTable("harmonics");
const facts = published("07_fourier_thd"); // closed forms, computed there by scipy
const length = 4096;
const sineShaped = (shape: (x: number) => number, samples = length) =>
  Float64Array.from({length: samples}, (_, n) => shape(Math.sin((2 * Math.PI * n) / samples)));

type Soft = Readonly<{
  drive: number;
  harmonic_amplitudes_odd: Readonly<Record<string, number>>;
  THD_F: number;
  THD_R: number;
}>;
const soft = (facts.table("soft_clip") as readonly (Soft & {function: string})[]).filter(
  (each) => each.function === "tanh(d sin)" && each.drive <= 5,
);

test.each(soft)(
  "$function at drive $drive has its harmonics and distortion",
  ({drive, harmonic_amplitudes_odd, THD_F, THD_R}) => {
    const harmonics = harmonicsOf(
      sineShaped((x) => Math.tanh(drive * x)),
      40,
    );
    for (const [k, wanted] of Object.entries(harmonic_amplitudes_odd)) {
      // The transform of a smooth curve is exact but for rounding; 1e-9 is what the file's own quadrature gives.
      expect(Math.abs((harmonics.amplitude[Number(k)] ?? NaN) - Math.abs(wanted)), `harmonic ${k}`).toBeLessThan(1e-9);
    }
    const {ofFundamental, ofTotal, even} = harmonicDistortion(harmonics);
    // What lies above harmonic 40 is below 1e-5 of the distortion at drive 5.
    expect(Math.abs(ofFundamental / THD_F - 1)).toBeLessThan(1e-4);
    expect(Math.abs(ofTotal / THD_R - 1)).toBeLessThan(1e-4);
    expect(even).toBeLessThan(1e-7); // odd symmetry: -140 dB, as the row odd.symmetry asks
    record({
      id: `tanh drive ${drive}`,
      source: "published/07_fourier_thd soft_clip",
      expected: THD_F,
      ours: ofFundamental,
      difference: Math.abs(ofFundamental - THD_F),
      tolerance: 1e-4 * THD_F,
    });
  },
);

type Clip = Readonly<{
  clip_level_over_peak: number;
  harmonics: Readonly<Record<string, number>>;
  crest_factor: number;
  rms: number;
}>;
test.each(facts.table("symmetric_hard_clip") as readonly Clip[])("a sine clipped at $clip_level_over_peak", (row) => {
  const level = row.clip_level_over_peak;
  const cycle = sineShaped((x) => Math.max(-level, Math.min(level, x)), 65536);
  const {amplitude} = harmonicsOf(cycle, 15);
  for (const [k, wanted] of Object.entries(row.harmonics)) {
    // The corner folds: the clipped wave's harmonics fall with 1/k², and 65536 points leave about 1/65536² of the peak.
    expect(Math.abs((amplitude[Number(k)] ?? NaN) - Math.abs(wanted)), `harmonic ${k}`).toBeLessThan(1e-8);
  }
  expect(rms(cycle)).toBeCloseTo(row.rms, 8); // the same corners
});

test("powers of a sine have their textbook harmonics", () => {
  const cube = harmonicsOf(sineShaped((x) => x ** 3, 64));
  const [fundamental, third] = facts.expected("poly.x3") as [number, number];
  // Rising sine is -90°; a negative sine +90°. Exact but for rounding.
  expect(cube.amplitude[1]).toBeCloseTo(fundamental, 14);
  expect(cube.phaseDegrees[1]).toBeCloseTo(-90, 9);
  expect(cube.amplitude[3]).toBeCloseTo(-third, 14);
  expect(cube.phaseDegrees[3]).toBeCloseTo(90, 9);
  const square = harmonicsOf(sineShaped((x) => x ** 2, 64));
  expect([square.amplitude[0], square.amplitude[2]].map((x) => Number(x?.toFixed(14)))).toEqual(
    facts.expected("poly.x2"),
  );
  const fifth = harmonicsOf(sineShaped((x) => x ** 5, 64));
  const sineTerm = (k: number) =>
    -(fifth.amplitude[k] ?? NaN) * Math.sin(((fifth.phaseDegrees[k] ?? NaN) * Math.PI) / 180);
  facts.check("poly.x5", [1, 3, 5].map(sineTerm), 1e-15); // rounding
  for (const size of [0.5, 1]) {
    const cubic = harmonicsOf(sineShaped((x) => size * x - (size * x) ** 3 / 3, 64));
    facts.check(`cubic.${size}`, [cubic.amplitude[1], cubic.amplitude[3]]);
  }
});

test("the two definitions of distortion agree with the published closed forms", () => {
  for (const [id, size] of [
    ["square", (k: number) => (k % 2 ? 1 / k : 0)],
    ["triangle", (k: number) => (k % 2 ? 1 / k ** 2 : 0)],
    ["sawtooth", (k: number) => 1 / k],
  ] as const) {
    const count = 2_000_000;
    const amplitude = Float64Array.from({length: count + 1}, (_, k) => (k === 0 ? 0 : size(k)));
    const {ofFundamental, ofTotal} = harmonicDistortion({amplitude, phaseDegrees: amplitude});
    facts.check(`thd.${id}`, [ofFundamental, ofTotal], 1e-6); // the series is cut at two million: its rest is 1/2e6
  }
});

test("crest factors are the published ones", () => {
  const wave = (shape: (t: number) => number) => Float64Array.from({length: 40000}, (_, n) => shape(n / 40000));
  const sine = (t: number) => Math.sin(2 * Math.PI * t);
  const waves = [
    wave((t) => (t < 0.5 ? 1 : -1)),
    wave(sine),
    wave((t) => 1 - 4 * Math.abs(t - 0.5)),
    wave((t) => Math.max(0, sine(t))),
    wave((t) => Math.abs(sine(t))),
  ];
  facts.check("square.cf", waves.map(crestFactorDb), 1e-7); // sums instead of integrals: the triangle is off by 1/n²
  facts.check("square.rms", waves.map(rms), 1e-8); // likewise
});

type Two = Readonly<{kind: string; k2: number; k3: number; d_m2?: number; d_m3?: number; d_d2?: number; d_d3?: number}>;
test.each(published("08_intermodulation").table("polynomial_examples") as readonly Two[])(
  "two tones through a curve: $kind, $k2, $k3",
  ({kind, k2, k3, ...wanted}) => {
    const [low, high, a, b] = kind.startsWith("SMPTE") ? [3, 350, 0.8, 0.2] : [19, 20, 0.5, 0.5];
    const cycle = Float64Array.from({length: 2400}, (_, n) => {
      const t = (2 * Math.PI * n) / 2400;
      const x = a * Math.sin(low * t) + b * Math.sin(high * t);
      return x + k2 * x * x + k3 * x ** 3;
    });
    const ours = intermodulationOf(cycle, low, high);
    // A polynomial's products are exact in a transform without folding: rounding alone.
    if (wanted.d_m2 !== undefined) expect(ours.modulationSecond).toBeCloseTo(wanted.d_m2, 12);
    if (wanted.d_m3 !== undefined) expect(ours.modulationThird).toBeCloseTo(wanted.d_m3, 12);
    if (wanted.d_d2 !== undefined) expect(ours.differenceSecond).toBeCloseTo(wanted.d_d2, 12);
    if (wanted.d_d3 !== undefined) expect(ours.differenceThird).toBeCloseTo(wanted.d_d3, 12);
  },
);

test("too short a cycle is refused", () => {
  expect(() => harmonicsOf(new Float64Array(40))).toThrow("20 harmonics need 41 samples of a cycle and more, got 40");
});

test("silence has no intermodulation, and products without an upper tone are endless", () => {
  expect(Object.values(intermodulationOf(new Float64Array(240), 3, 20))).toEqual([0, 0, 0, 0]);
  const difference = Float64Array.from({length: 240}, (_, n) => Math.sin((2 * Math.PI * 17 * n) / 240));
  const {modulationSecond, differenceSecond} = intermodulationOf(difference, 3, 20);
  // Not quite nothing is left at the upper tone: the transform's rounding.
  expect(modulationSecond).toBeGreaterThan(1e12);
  expect(differenceSecond).toBeGreaterThan(1e12);
});
