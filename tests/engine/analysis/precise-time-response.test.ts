import {expect, test} from "vitest";
import {preciseTimeResponse} from "../../../src/engine/analysis/precise-time-response.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {raisedSignal} from "../../../src/engine/realtime/raised-signal.ts";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {capacitor, resistor, signalAt} from "../../reference-cases/course-stages.ts";

const rateHz = 48_000;
const rms = (row: Float64Array) => Math.sqrt(row.reduce((sum, volts) => sum + volts * volts, 0) / row.length);
const offDb = (row: Float64Array, exact: Float64Array) =>
  20 * Math.log10(rms(row.map((volts, n) => volts - (exact[n] ?? Number.NaN))) / rms(exact));
const sine = (hertz: number, length: number) =>
  Float64Array.from({length}, (_, n) => Math.sin((2 * Math.PI * hertz * n) / rateHz));

test.each([100, 1000, 5000, 20000])("between its samples a signal of %i Hz is the sine it is", (hertz) => {
  const signal = raisedSignal(sine(hertz, 4800), rateHz, 1e-3);
  // Past the start, which holds more than the sine: 3 ms of the filters' taps.
  for (let k = 0; k < 5000; k++) {
    const t = 0.02 + k * 3.217e-6;
    // Half-band filters with side lobes of −110 dB, three of them.
    expect(Math.abs(signal(t) - Math.sin(2 * Math.PI * hertz * t)), `at ${t} s`).toBeLessThan(4e-5);
  }
});

test("a signal is still there as far back as was said, and no further", () => {
  const signal = raisedSignal(sine(100, 48_000), rateHz, 1e-3);
  const then = signal(0.1);
  signal(0.101);
  expect(signal(0.1)).toBe(then);
  signal(0.9);
  expect(() => signal(0.1)).toThrow("the signal at 0.1 s is no longer there");
});

test("R and C turn and weaken a sine as their formula says", () => {
  const low = circuit([signalAt("in"), resistor("R", "in", "out", 1e3), capacitor("C", "out", "0", 10e-9)]);
  const out = preciseTimeResponse(low, "out", sine(1000, 4800), rateHz, {tolerance: 1e-7});
  const turn = 2 * Math.PI * 1000 * 1e-5;
  for (let n = 2400; n < 4500; n++) {
    const angle = (2 * Math.PI * 1000 * n) / rateHz;
    // The filters' ripple at 1 kHz.
    expect(Math.abs((out[n] ?? NaN) - (Math.sin(angle) - turn * Math.cos(angle)) / (1 + turn * turn))).toBeLessThan(
      3e-6,
    );
  }
});

test.each([2, 8, 10, 21])("in lesson %i the trapezoidal rule comes to it with the square of its step", (lesson) => {
  const {circuit: bench, listenAt, phrasePeakVolts} = courseCircuit(startSetting(lesson));
  const signal = Float64Array.from(phraseSamples("riff", rateHz).subarray(0, 4800), (each) => phrasePeakVolts * each);
  const fromRest = true;
  const precise = preciseTimeResponse(bench, listenAt, signal, rateHz, {tolerance: 1e-8, fromRest});
  const stepped = (oversampling: number) =>
    offDb(timeResponse(bench, listenAt, signal, rateHz, {oversampling, fromRest}), precise);
  // 12 dB a doubling, and nothing else is left: neither what folds nor the filters' ripple, which both have.
  expect(stepped(8) - stepped(16)).toBeCloseTo(12, 0);
  expect(stepped(16) - stepped(32)).toBeCloseTo(12, 0);
  expect(offDb(preciseTimeResponse(bench, listenAt, signal, rateHz, {fromRest}), precise)).toBeLessThan(-115);
});

test("silence stays at the operating point", () => {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(21));
  const rest = preciseTimeResponse(bench, listenAt, new Float64Array(480), rateHz, {fromRest: true});
  // Nanovolts that Kirchhoff's law is left short of at rest.
  expect(Math.max(...rest.map(Math.abs))).toBeLessThan(1e-8);
});

test("what cannot be played is named", () => {
  const {circuit: bench, listenAt} = courseCircuit(startSetting(1));
  const play = (rate: number, tolerance: number) =>
    preciseTimeResponse(bench, listenAt, new Float64Array(1), rate, {tolerance});
  expect(() => play(0, 1e-6)).toThrow("the sample rate must be positive, got 0 Hz");
  expect(() => play(rateHz, -1)).toThrow("the tolerance must be positive, got -1");
  expect([...play(rateHz, 1e-6)]).toHaveLength(1);
});
