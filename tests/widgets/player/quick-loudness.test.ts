import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {phraseNames, phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {fullScalePerVolt} from "../../../src/engine/sound/volts.ts";
import {quickLoudness, quickRateHz} from "../../../src/widgets/player/quick-loudness.ts";
import {rendered, renderRateHz} from "../../../src/widgets/player/rendering.ts";

// Every phrase on the first lesson and the finished pedal, one each on lessons between: the full rendering takes time.
const pairs = phraseNames.flatMap((name, k) => [
  [1, name] as const,
  [20, name] as const,
  [[2, 6, 8, 9, 10, 13, 14][k % 7] ?? 10, name] as const,
  [[3, 4, 5, 7, 11, 12, 15][k % 7] ?? 3, name] as const,
]);

test.each(pairs)("lesson %i measured quickly is as loud as in full: %s", (lesson, name) => {
  const setting = startSetting(lesson);
  const full = rendered(setting, phraseSamples(name, renderRateHz)).loudness - 20 * Math.log10(fullScalePerVolt);
  const quick = quickLoudness(setting, phraseSamples(name, quickRateHz));
  // 0.1 LU: meters built to EBU Tech 3341 agree within that, so that no ear is told more.
  expect(Math.abs(quick - full)).toBeLessThan(0.1);
});

test("so is the quietest bench, whose pauses lie near the absolute gate, with ringing chords", () => {
  const setting = beforeSetting(5);
  const name = "open chords left ringing";
  const full = rendered(setting, phraseSamples(name, renderRateHz)).loudness - 20 * Math.log10(fullScalePerVolt);
  expect(Math.abs(quickLoudness(setting, phraseSamples(name, quickRateHz)) - full)).toBeLessThan(0.1);
});
