import {expect, test} from "vitest";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";

const rateHz = 48_000;

function sineGainDb(lesson: number, frequencyHz: number): number {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(lesson));
  const angle = (n: number) => (2 * Math.PI * frequencyHz * n) / rateHz;
  const out = timeResponse(
    bench,
    listenAt,
    Float64Array.from({length: rateHz}, (_, n) => Math.sin(angle(n))),
    rateHz,
  );
  let [re, im, count] = [0, 0, 0];
  // Whole seconds hold whole periods; the first half lets the start die away.
  for (let n = rateHz / 2; n < rateHz - 480; n++, count++) {
    re += (out[n] ?? 0) * Math.cos(angle(n));
    im += (out[n] ?? 0) * Math.sin(angle(n));
  }
  return 20 * Math.log10((2 * Math.hypot(re, im)) / count);
}

test.each([
  [1, 110],
  [1, 1000],
  [1, 3000],
  [1, 8000],
  [2, 110],
  [2, 3000],
])("what is heard in lesson %i is what is drawn at %i Hz", (lesson, frequencyHz) => {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(lesson));
  const drawn = magnitudeDb(frequencyResponse(bench, listenAt, Float64Array.of(frequencyHz)))[0] ?? 0;
  // Trapezoidal rule at 384 kHz: frequencies are 0.14 % low at 8 kHz, on a slope of 13 dB an octave 0.03 dB.
  expect(sineGainDb(lesson, frequencyHz)).toBeCloseTo(drawn, 1);
});

test("a step through R and C follows 1 − exp(−t/RC)", () => {
  const low = circuit([
    {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true},
    {kind: "resistor", ref: "R", nodes: ["in", "out"], ohms: 10e3},
    {kind: "capacitor", ref: "C", nodes: ["out", "0"], farads: 100e-9},
  ]);
  const seconds = 10e3 * 100e-9;
  const step = new Float64Array(960).fill(1, 1);
  const out = timeResponse(low, "out", step, 192_000, {oversampling: 1});
  for (const n of [96, 192, 384, 768]) {
    // The sampled step begins half a sample before its first one; trapezoidal error under (h/τ)²/12 = 2.3e-6.
    expect(out[n]).toBeCloseTo(1 - Math.exp(-(n - 0.5) / 192_000 / seconds), 4);
  }
});

test("silence stays at the operating point", () => {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(2));
  expect(Math.max(...timeResponse(bench, listenAt, new Float64Array(480), rateHz).map(Math.abs))).toBe(0);
});

test("a sample rate of 0 Hz is named", () => {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(1));
  expect(() => timeResponse(bench, listenAt, new Float64Array(1), 0)).toThrow(
    "the sample rate must be positive, got 0 Hz",
  );
});
