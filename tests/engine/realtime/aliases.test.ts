import {expect, test} from "vitest";
import {timeResponse, type TimeResponseOptions} from "../../../src/engine/analysis/time-response.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {halfBandTaps} from "../../../src/engine/realtime/half-band.ts";
import {oversampler} from "../../../src/engine/realtime/oversample.ts";

const rateHz = 48_000;

/** Size of the part of `samples` at `cycles` whole cycles. */
function sizeAt(samples: Float64Array, cycles: number): number {
  let [re, im] = [0, 0];
  samples.forEach((value, n) => {
    const angle = (2 * Math.PI * cycles * n) / samples.length;
    re += value * Math.cos(angle);
    im += value * Math.sin(angle);
  });
  return Math.hypot(re, im);
}

const decibels = (ratio: number) => 20 * Math.log10(ratio);

/** The largest line below 20 kHz that is no harmonic, in decibels of the fundamental: it can only have been folded there. */
function worstAliasDb(hertz: number, period: number, options: TimeResponseOptions): number {
  const {settings} = startSetting(20);
  const {circuit, listenAt} = courseCircuit({lesson: 20, settings: {...settings, RV1: 1}});
  const settled = rateHz / 2;
  // `period` samples hold a whole number of cycles; a few more keep the filters away from the signal's end.
  const signal = Float64Array.from({length: settled + period + 200}, (_, n) =>
    Math.sin((2 * Math.PI * hertz * n) / rateHz),
  );
  const out = timeResponse(circuit, listenAt, signal, rateHz, options).subarray(settled, settled + period);
  const harmonic = (hertz * period) / rateHz;
  expect(Number.isInteger(harmonic)).toBe(true);
  // There must be something to fold: a third harmonic within 40 dB.
  expect(decibels(sizeAt(out, 3 * harmonic) / sizeAt(out, harmonic))).toBeGreaterThan(-40);
  let worst = 0;
  for (let cycles = 1; cycles * rateHz < 20_000 * period; cycles++)
    if (cycles % harmonic !== 0) worst = Math.max(worst, sizeAt(out, cycles));
  return decibels(worst / sizeAt(out, harmonic));
}

test("played live, 1.24 kHz at 1 V through the whole pedal folds nothing within 95 dB", () => {
  expect(worstAliasDb(1240, 1200, {oversampling: 8, corrects: true})).toBeLessThan(-95);
});

test("worked out for a file, 5 kHz at 1 V folds nothing within 90 dB", () => {
  expect(worstAliasDb(5000, 960, {oversampling: 32})).toBeLessThan(-90);
});

test("the first doubling passes 20 kHz within a thousandth of a decibel and stops what folds below it by 105 dB", () => {
  const taps = halfBandTaps(24);
  /** Gain at a frequency of a filter that runs at 96 kHz. */
  const gain = (hertz: number) =>
    Math.abs(taps.reduce((sum, tap, k) => sum + 2 * tap * Math.cos((2 * Math.PI * hertz * (2 * k + 1)) / 96_000), 0.5));
  for (let hertz = 0; hertz <= 20_000; hertz += 100) expect(Math.abs(decibels(gain(hertz)))).toBeLessThan(1e-3);
  for (let hertz = 28_000; hertz <= 48_000; hertz += 100) expect(decibels(gain(hertz))).toBeLessThan(-105);
});

test.each([1, 2, 4, 8, 16, 32])("up %i times and down again is the same sound, late by what is said", (factor) => {
  const {up, down, latency} = oversampler(factor, 64);
  const tone = (n: number) => (n < 0 ? 0 : Math.sin((2 * Math.PI * 1000 * n) / rateHz));
  const out: number[] = [];
  for (let from = 0; from < 1024; from += 64) {
    const block = Float64Array.from({length: 64}, (_, n) => tone(from + n));
    out.push(...down(up(block, 64), 64 * factor).subarray(0, 64));
  }
  // Away from the tone's start, whose corner no filter passes: the passband's ripple of 1e-5 and less is left.
  for (let n = 300; n < 1024; n++)
    expect(Math.abs((out[n] ?? NaN) - tone(n - latency)), `sample ${n}`).toBeLessThan(2e-5);
});
