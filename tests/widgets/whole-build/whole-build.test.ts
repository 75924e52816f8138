import {expect, test} from "vitest";
import {integratedLoudness} from "../../../src/engine/sound/loudness.ts";
import {peak} from "../../../src/engine/sound/samples.ts";
import {clockText} from "../../../src/widgets/whole-build/clock-text.ts";
import {stageCues, wholeBuild} from "../../../src/widgets/whole-build/whole-build.ts";

const rateHz = 48_000;
const rendering = (gain: number, frequencyHz: number) => {
  const samples = Float32Array.from(
    {length: 2 * rateHz},
    (_, n) => gain * Math.cos((2 * Math.PI * frequencyHz * n) / rateHz),
  );
  return {samples, loudness: integratedLoudness(samples, rateHz)};
};

test("stages stand one after the other, equally loud, under the ceiling", () => {
  const whole = wholeBuild([rendering(0.9, 100), rendering(0.001, 2000), rendering(0.1, 440)]);
  expect(whole.length).toBe(6 * rateHz);
  expect(peak(whole)).toBeLessThan(10 ** (-1 / 20));
  for (let k = 0; k < 3; k++) {
    const stage = whole.subarray(k * 2 * rateHz, (k + 1) * 2 * rateHz);
    // Two fades of 10 ms take less than this from two seconds.
    expect(Math.abs(integratedLoudness(stage, rateHz) + 24)).toBeLessThan(0.05);
  }
});

test("every joint is silent for a moment and rises without a step", () => {
  const whole = wholeBuild([rendering(0.5, 440), rendering(0.5, 440)]);
  for (const at of [0, 2 * rateHz - 1, 2 * rateHz, 4 * rateHz - 1]) expect(Math.abs(whole[at] ?? NaN)).toBe(0);
  let steepest = 0;
  for (let n = 1; n < whole.length; n++) steepest = Math.max(steepest, Math.abs((whole[n] ?? 0) - (whole[n - 1] ?? 0)));
  // The tone's own steepest step, and a tenth for the fade.
  expect(steepest).toBeLessThan(1.1 * peak(whole) * 2 * Math.sin((Math.PI * 440) / rateHz));
});

test("a silent stage leaves the others as they are", () => {
  const whole = wholeBuild([rendering(0, 100), rendering(0.1, 440)]);
  expect(peak(whole.subarray(0, 2 * rateHz))).toBe(0);
  expect(Math.abs(integratedLoudness(whole.subarray(2 * rateHz), rateHz) + 24)).toBeLessThan(0.05); // as above
});

test("a stage by itself is as loud, sample for sample, as it is among the others", () => {
  const [quiet, loud] = [rendering(0.001, 2000), rendering(0.9, 100)];
  const whole = wholeBuild([quiet, loud]);
  expect(wholeBuild([quiet])).toEqual(whole.subarray(0, 2 * rateHz));
  expect(wholeBuild([loud])).toEqual(whole.subarray(2 * rateHz));
});

const stages = [
  {lesson: 1, name: "The wire", adds: "guitar"},
  {lesson: 2, name: "In the way", adds: "R1"},
];

test("cues follow the phrase's length", () => {
  const cues = stageCues(stages, 6.38);
  expect(cues).toEqual([
    {startSeconds: 0, endSeconds: 6.38, name: "1. The wire", about: "guitar"},
    {startSeconds: 6.38, endSeconds: 12.76, name: "2. In the way", about: "R1"},
  ]);
});

test("a player's clock", () => expect([0, 6.38, 59.99, 66].map(clockText)).toEqual(["0:00", "0:06", "0:59", "1:06"]));
