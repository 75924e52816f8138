import {expect, test} from "vitest";
import {sweepHz, sweepSamples, sweepSeconds} from "../../../src/engine/sound/sweep.ts";

test("the sweep is at each moment where it says, and every octave takes as long", () => {
  const rate = 48_000;
  const samples = sweepSamples(rate);
  expect(samples).toHaveLength(sweepSeconds * rate);
  for (const seconds of [1, 4, 7, 10]) {
    // Zero crossings in a tenth of a second about that moment, rising ones alone: their mean spacing is the period.
    const crossings: number[] = [];
    for (let n = Math.round((seconds - 0.05) * rate); n < (seconds + 0.05) * rate; n++) {
      const [before = 0, after = 0] = [samples[n], samples[n + 1]];
      if (before < 0 && after >= 0) crossings.push(n - before / (after - before));
    }
    const first = crossings[0] ?? NaN;
    const last = crossings.at(-1) ?? NaN;
    const hertz = ((crossings.length - 1) * rate) / (last - first);
    // In that tenth of a second it rises by 5 %; its mean lies within a per cent of the middle.
    expect(Math.abs(hertz / sweepHz((first + last) / 2 / rate) - 1)).toBeLessThan(0.01);
  }
  expect(sweepHz(6) / sweepHz(3)).toBeCloseTo(sweepHz(12) / sweepHz(9), 9);
});

test("it goes round without a click, and nowhere passes 1", () => {
  const samples = sweepSamples(48_000);
  expect(Math.abs(samples[0] ?? NaN)).toBe(0);
  expect(Math.abs(samples.at(-1) ?? NaN)).toBeLessThan(1e-3);
  expect(samples.every((sample) => Math.abs(sample) <= 1)).toBe(true);
});
