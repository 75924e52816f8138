import {expect, test} from "vitest";
import {equalLoudnessGains} from "../../../src/engine/sound/equal-loudness.ts";
import {integratedLoudness} from "../../../src/engine/sound/loudness.ts";
import {amplitude, peak, scaled} from "../../../src/engine/sound/samples.ts";

const rateHz = 48_000;
const tone = (gain: number, frequencyHz: number) =>
  Float32Array.from({length: 2 * rateHz}, (_, n) => gain * Math.sin((2 * Math.PI * frequencyHz * n) / rateHz));
/** As loud as a tone, but with a short peak far above it. */
const spiky = () => {
  const sound = tone(0.01, 440);
  sound[rateHz] = 0.4;
  return sound;
};
const facts = (samples: Float32Array) => ({loudness: integratedLoudness(samples, rateHz), peak: peak(samples)});
const played = (sounds: readonly Float32Array[], wanted: number) => {
  const gains = equalLoudnessGains(sounds.map(facts), wanted);
  return sounds.map((sound, k) => scaled(sound, amplitude(gains[k] ?? NaN)));
};

test("sounds of different levels and colours come out equally loud, at the loudness that is wanted", () => {
  for (const sound of played([tone(0.5, 100), tone(0.001, 1000), tone(0.02, 5000)], -24)) {
    expect(integratedLoudness(sound, rateHz)).toBeCloseTo(-24, 3); // rounding to single precision
  }
});

test("where one would pass the ceiling, all are turned down together", () => {
  const sounds = played([spiky(), tone(0.5, 440)], -10);
  const [a = NaN, b = NaN] = sounds.map((sound) => integratedLoudness(sound, rateHz));
  expect(a).toBeCloseTo(b, 3); // rounding to single precision
  expect(a).toBeLessThan(-20);
  expect(Math.max(...sounds.map(peak))).toBeLessThanOrEqual(amplitude(-1));
  expect(Math.max(...sounds.map(peak))).toBeGreaterThan(amplitude(-1.01));
});

test("silence takes no part", () => {
  expect(equalLoudnessGains([{loudness: -Infinity, peak: 0}], -24)).toEqual([0]);
  expect(equalLoudnessGains([{loudness: -Infinity, peak: 0}, facts(tone(0.1, 1000))], -24)[0]).toBe(0);
});
