import {expect, test} from "vitest";
import {compression, compressionPoint} from "../../../src/engine/analysis/compression.ts";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {levelResponse} from "../../../src/engine/analysis/level-response.ts";
import {levelSweep} from "../../../src/engine/analysis/level-sweep.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {driveOf, homeCases} from "../../reference-cases/cases.ts";
import {gainStage, pair, resistor, signalAt} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";
import {readCircuit} from "../../reference-cases/read-case.ts";

const [R, Is, nVT] = [1e3, 2.52e-9, 1.752 * 0.025852];
const limiter = circuit([signalAt("s"), resistor("R", "s", "d", R), ...pair("d", "0")]);

/** The limiter's voltage by bisection on v + R·2·Is·sinh(v/(n·VT)) = u: nothing of the engine in it. */
function limited(u: number): number {
  let [low, high] = [Math.min(0, u), Math.max(0, u)];
  for (let k = 0; k < 200; k++) {
    const middle = (low + high) / 2;
    if (middle + 2 * R * Is * Math.sinh(middle / nVT) > u) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** Gain of its fundamental: (2/T)·∫ v·sin over a cycle, by the trapezoidal rule, exact for a smooth periodic curve. */
function limitedGainDb(peak: number): number {
  const points = 4096;
  let sum = 0;
  for (let n = 0; n < points; n++) {
    const sine = Math.sin((2 * Math.PI * n) / points);
    sum += limited(peak * sine) * sine;
  }
  return 20 * Math.log10((2 * sum) / points / peak);
}

test("gain and distortion of the stage over level and gain are the published ones", () => {
  type Row = Readonly<{position: number; Vin_peak: number; Vout_peak: number; THD_F: number; harmonics: {1: number}}>;
  const rows = published("07_fourier_thd").table("course_gain_stage_static_sine") as readonly Row[];
  const hold = holder("levels", "published/07_fourier_thd course_gain_stage_static_sine (static law, 4096 points)");
  expect(rows.length).toBeGreaterThan(10);
  for (const {position, Vin_peak, Vout_peak, THD_F, harmonics} of rows) {
    const stage = circuit([signalAt("p"), ...gainStage(position, undefined, undefined), ...pair("o", "m")]);
    const {peakOut, gainDb, distortion} = levelSweep(stage, "o", 220, Float64Array.of(Vin_peak));
    const id = `${position} ${Vin_peak} V`;
    // The stage remembers nothing: what is left is harmonics 255 and 257 of the hardest clipping folding back, 1e-5 of the fundamental.
    hold(`${id} peak`, peakOut[0] ?? NaN, Vout_peak, 1e-7 * Vout_peak);
    hold(`${id} gain`, gainDb[0] ?? NaN, 20 * Math.log10(harmonics[1] / Vin_peak), 1e-4);
    // Twenty harmonics of ours against all of theirs: even a square keeps no more than 5 % of its harmonics' power above.
    hold(`${id} distortion`, distortion[0] ?? NaN, THD_F, 0.026 * THD_F + 1e-8);
  }
});

test("at a level that bends nothing the response over frequency is that of a quiet signal", () => {
  const {circuit: bench, listenAt} = courseCircuit({lesson: 10, settings: {}});
  const frequencies = Float64Array.of(82.41, 440, 2e3, 8e3);
  const quiet = magnitudeDb(frequencyResponse(bench, listenAt, frequencies));
  const [first, second] = levelResponse(bench, listenAt, frequencies, Float64Array.of(1e-5, 0.3));
  frequencies.forEach((_, k) => {
    // 10 µV times 50: half a millivolt across diodes that bend by (v/nVT)²/8 of the little they take.
    expect(Math.abs((first?.[k] ?? NaN) - (quiet[k] ?? NaN))).toBeLessThan(1e-4);
    expect(second?.[k] ?? NaN).toBeLessThan((quiet[k] ?? NaN) - (k === 0 ? 3 : 6)); // clipped everywhere, the bass least
  });
});

test("the response at three levels is that of the independent cycles", () => {
  const cases = homeCases("tran.direct.").filter((each) => driveOf(each).form === "sine");
  expect(cases.length).toBeGreaterThan(2);
  for (const each of cases) {
    const drive = driveOf(each);
    if (drive.form !== "sine") continue;
    const {magnitude} = each.expected["out"] as {magnitude: readonly number[]};
    const [row] = levelResponse(
      readCircuit(each),
      "out",
      Float64Array.of(drive.frequencyHz),
      Float64Array.of(drive.peakVolts),
    );
    const wanted = 20 * Math.log10((magnitude[0] ?? NaN) / drive.peakVolts);
    expect(Math.abs((row?.[0] ?? NaN) - wanted), each.id).toBeLessThan(1e-4); // the case's 2e-6 of the peak, in decibels
  }
});

test("a limiter's peak and slope over level follow its law", () => {
  const peaks = Float64Array.from({length: 61}, (_, k) => 0.01 * 10 ** (k / 20));
  const {inputDb, peakOutDb, slope, ratio} = compression(limiter, "d", 100, peaks);
  peaks.forEach((u, k) => {
    expect(inputDb[k]).toBeCloseTo(20 * Math.log10(u), 12);
    expect(Math.abs((peakOutDb[k] ?? NaN) - 20 * Math.log10(limited(u)))).toBeLessThan(1e-6); // no memory: Newton's last step
    expect((ratio[k] ?? NaN) * (slope[k] ?? NaN)).toBeCloseTo(1, 12);
  });
  expect(slope[0]).toBeCloseTo(1, 3); // 10 mV: the diodes take 1e-4 of it
  // The RMS's own slope, from the law: d ln(rms)/d ln(u) by quadrature and a central difference of 1e-4.
  const rms = (peak: number) => {
    let sum = 0;
    for (let n = 0; n < 4096; n++) sum += limited(peak * Math.sin((2 * Math.PI * n) / 4096)) ** 2;
    return Math.sqrt(sum / 4096);
  };
  for (const k of [20, 35, 45, 58]) {
    const u = peaks[k] ?? NaN;
    const wanted = Math.log(rms(u * 1.0001) / rms(u * 0.9999)) / Math.log(1.0001 / 0.9999);
    expect(Math.abs((slope[k] ?? NaN) - wanted), `${u} V`).toBeLessThan(5e-3); // parabolas over levels 1 dB apart
  }
});

test("a linear circuit compresses nothing, at any level", () => {
  const linear = circuit([signalAt("p"), ...gainStage(0.5, 68e-9, 120e-12)]);
  const {slope} = compression(linear, "o", 440, Float64Array.of(1e-3, 0.1, 1, 10));
  for (const each of slope) expect(each).toBeCloseTo(1, 9); // rounding
  expect(compressionPoint(linear, "o", 440)).toBeUndefined();
});

test("the compression point lies where the law says the gain has fallen by 1 dB", () => {
  const point = compressionPoint(limiter, "d", 100) ?? NaN;
  // Bisection to 1e-4 dB of level, where the gain falls less than 1 dB a dB; the quiet level itself is 1 mV in both.
  expect(Math.abs(limitedGainDb(1e-3) - limitedGainDb(point) - 1)).toBeLessThan(2e-4);
  expect(compressionPoint(limiter, "d", 100, {fallDb: 6}) ?? NaN).toBeGreaterThan(point);
});

test("levels that cannot be swept are refused", () => {
  expect(() => compression(limiter, "d", 100, Float64Array.of(1, 2))).toThrow(
    "compression needs 3 or more levels, got 2",
  );
  expect(() => compression(limiter, "d", 100, Float64Array.of(1, 1, 2))).toThrow(
    "levels must ascend: 1 V follows 1 V at index 1",
  );
  expect(() => levelResponse(limiter, "d", Float64Array.of(100), Float64Array.of(-1))).toThrow(
    "levels must be positive, got -1 V at index 0",
  );
  expect(() => compressionPoint(limiter, "d", 100, {fallDb: 0})).toThrow(
    "a fall and a level above 1 mV are needed, got 0 dB and 10 V",
  );
});
