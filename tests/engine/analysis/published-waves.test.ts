import {expect, test} from "vitest";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicAt, harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {twoTone} from "../../../src/engine/analysis/two-tone.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {noteHz} from "../../../src/engine/sound/phrases.ts";
import {gainStage, pair, signalAt} from "../../reference-cases/course-stages.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const fourier = published("07_fourier_thd");
const intermodulation = published("08_intermodulation");

const points = 1 << 16;
const wave = (shape: (t: number) => number, length = points) =>
  Float64Array.from({length}, (_, n) => shape((n + 0.5) / length));
const square = (t: number) => (t < 0.5 ? 1 : -1);

/** Sine terms b and cosine terms a of a cycle, sampled half a step late. */
function terms(cycle: Float64Array, count: number): Readonly<{a: number[]; b: number[]}> {
  const {amplitude, phaseDegrees} = harmonicsOf(cycle, count);
  const angles = Array.from(phaseDegrees, (degrees, k) => (degrees * Math.PI) / 180 - (Math.PI * k) / cycle.length);
  return {
    a: angles.map((angle, k) => (amplitude[k] ?? NaN) * Math.cos(angle)),
    b: angles.map((angle, k) => -(amplitude[k] ?? NaN) * Math.sin(angle)),
  };
}

test("square, triangle, sawtooth and rectified sines have the published series", () => {
  type Terms = readonly {n: number; b: number}[];
  type Rectified = Readonly<{dc: number; b1?: number; cosine_terms: readonly {n: number; a: number}[]}>;
  const series = fourier.table("series") as Readonly<Record<string, Terms | Rectified>>;
  const sine = (t: number) => Math.sin(2 * Math.PI * t);
  const shapes: Readonly<Record<string, (t: number) => number>> = {
    square_pm1: square,
    triangle_pm1_sine_phase: (t) => 1 - 4 * Math.abs(((t + 0.25) % 1) - 0.5),
    sawtooth_pm1: (t) => (t < 0.5 ? 2 * t : 2 * t - 2),
    halfwave_rectified_unit_sine: (t) => Math.max(0, sine(t)),
    fullwave_rectified_unit_sine: (t) => Math.abs(sine(t)),
  };
  expect(Object.keys(series).sort()).toEqual(Object.keys(shapes).sort());
  for (const [name, wanted] of Object.entries(series)) {
    const {a, b} = terms(wave(shapes[name] ?? (() => NaN)), 15);
    // Jumps fold: harmonic n of a cycle of 65536 points is off by (π·n/65536)²/6 of itself, 9e-8 at the fifteenth.
    const near = (ours: number | undefined, theirs: number, which: string) =>
      expect(Math.abs((ours ?? NaN) - theirs), `${name} ${which}`).toBeLessThan(
        1e-7 * Math.max(0.01, Math.abs(theirs)) + 1e-9,
      );
    if (!("dc" in wanted)) for (const each of wanted) near(b[each.n], each.b, `b${each.n}`);
    else {
      near(a[0], wanted.dc, "dc");
      if (wanted.b1 !== undefined) near(b[1], wanted.b1, "b1");
      for (const each of wanted.cosine_terms) near(a[each.n], each.a, `a${each.n}`);
    }
  }
});

test("a square made of many of its harmonics overshoots by Gibbs' share", () => {
  const count = 799;
  // Sums for integrals: the peak is off by a third of (count/points)², 2e-7, and the last harmonic by 5e-7.
  const cycle = wave(square, 1 << 20);
  // The first peak lies half a period of the last harmonic but one after the jump.
  const t = 1 / (2 * (count + 1));
  let peak = 0;
  for (let n = 1; n <= count; n += 2) {
    const {amplitude, phaseDegrees} = harmonicAt(cycle, n);
    const angle = (phaseDegrees * Math.PI) / 180 - (Math.PI * n) / cycle.length;
    peak += amplitude * Math.cos(2 * Math.PI * n * t + angle);
  }
  fourier.check("gibbs", peak);
});

test("Chebyshev's polynomials turn a cosine into one harmonic", () => {
  const tables = fourier.expected("chebyshev") as readonly (readonly number[])[];
  tables.forEach((powers, k) => {
    const order = k + 2;
    const {amplitude} = harmonicsOf(
      Float64Array.from({length: 64}, (_, n) =>
        powers.reduce((sum, factor, power) => sum + factor * Math.cos((2 * Math.PI * n) / 64) ** power, 0),
      ),
      8,
    );
    amplitude.forEach((size, n) => expect(size).toBeCloseTo(n === order ? 1 : 0, 13)); // rounding of coefficients up to 20
  });
});

test("the clipping stage with two equal diodes makes no even harmonics", () => {
  const stage = circuit([signalAt("p"), ...gainStage(0.5, 68e-9, 120e-12), ...pair("o", "m")]);
  const cycle = steadyCycle(stage, {frequencyHz: 220, peakVolts: 0.3}, ["o"]).at.get("o") ?? new Float64Array();
  const {even} = harmonicDistortion(harmonicsOf(cycle));
  expect(20 * Math.log10(even)).toBeLessThan(fourier.most("odd.symmetry"));
});

test("two tones make every product of the third order and no other", () => {
  const curve = circuit([signalAt("p"), ...gainStage(0.5, undefined, undefined), ...pair("o", "m").slice(0, 1)]);
  const tones = {lowHz: 300, highHz: 700, lowPeakVolts: 1e-3, highPeakVolts: 1e-3};
  const {products} = twoTone(curve, "o", tones, {order: 3, stepsPerCycle: 64});
  const name = ({low, high}: Readonly<{low: number; high: number}>) => {
    const term = (times: number, tone: string) =>
      times === 0 ? [] : [`${Math.abs(times) === 1 ? "" : Math.abs(times)}${tone}`];
    const [a, b] = [term(low, "f1"), term(high, "f2")];
    if (low * high >= 0) return [...a, ...b].join("+");
    return low < 0 ? `${b.join("")}-${a.join("")}` : `${a.join("")}-${b.join("")}`;
  };
  // A difference below 0 Hz sounds at the same frequency above it: f2 − 2f1 is 2f1 − f2.
  const wanted = (intermodulation.expected("imd.count") as readonly string[]).filter((each) => each !== "0");
  const ours = products.map(name).map((each) => (each === "f2-2f1" ? "2f1-f2" : each));
  expect(ours.sort()).toEqual([...wanted].sort());
  for (const {amplitude} of products) expect(amplitude).toBeGreaterThan(0);
});

test("a fifth on A makes its difference tones where the table says", () => {
  const [lowHz, highHz] = [noteHz(45), noteHz(52)];
  const wanted = intermodulation.expected("imd.power.chord") as readonly number[];
  // Tones that repeat together: 110 Hz and 164.8 Hz have a common period of 5 s, in which the fifth is tempered to 3 mHz.
  const tones = {lowHz, highHz: Math.round(5 * highHz) / 5, lowPeakVolts: 0.05, highPeakVolts: 0.05};
  const stage = circuit([signalAt("p"), ...gainStage(0.5, undefined, undefined), ...pair("o", "m").slice(0, 1)]);
  const {products} = twoTone(stage, "o", tones, {order: 3, stepsPerCycle: 32});
  const at = (low: number, high: number) =>
    products.find((each) => each.low === low && each.high === high)?.frequencyHz ?? NaN;
  const off = tones.highHz - highHz;
  intermodulation.check("imd.power.chord", [at(2, -1) + off, at(-1, 1) - off]);
  expect(wanted).toHaveLength(2);
});
