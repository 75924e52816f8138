import {expect, test} from "vitest";
import {
  phraseLength,
  phraseNames,
  phrasePeak,
  phraseSamples,
  phraseStretches,
} from "../../../src/engine/sound/phrases.ts";
import {peak} from "../../../src/engine/sound/samples.ts";

const rates = [44_100, 48_000];

test.each(phraseNames)("%s made in stretches is the phrase, sample for sample", (name) => {
  for (const rateHz of rates) {
    const whole = phraseSamples(name, rateHz);
    const highest = phrasePeak(name, rateHz);
    const stretches = [...phraseStretches(name, rateHz, highest)];
    expect(stretches.length).toBeGreaterThan(3);
    const joined = new Float32Array(whole.length);
    let from = 0;
    for (const stretch of stretches) {
      joined.set(stretch, from);
      from += stretch.length;
    }
    expect(from).toBe(phraseLength(name, rateHz));
    expect(joined.findIndex((sample, n) => sample !== whole[n])).toBe(-1);
    expect(peak(joined)).toBe(1);
  }
});

test("the riff's first stretch is its first note: less than a tenth of it", () => {
  const [first] = phraseStretches("riff", 48_000, phrasePeak("riff", 48_000));
  expect(first?.length).toBeGreaterThan(0.4 * 48_000);
  expect(first?.length).toBeLessThan(phraseLength("riff", 48_000) / 10);
});
