import {expect, test} from "vitest";
import {levels, loudnessSentence} from "../../../src/widgets/player/mix.ts";
import {playedLoudness} from "../../../src/widgets/player/played-loudness.ts";

test("however quiet a circuit is, what is heard comes at one loudness: nothing turned up for it can startle later", () => {
  for (const now of [-60, -40, -20]) {
    const mix = levels({before: -23, now, wire: -23}, true);
    for (const level of Object.values(mix)) expect(level.loudness).toBeCloseTo(playedLoudness, 9);
  }
});

test("a silent voice is called silent, and sets no measure for the others", () => {
  const mix = levels({before: -23, now: -Infinity, wire: -26}, true);
  expect(loudnessSentence(mix, "now", true)).toBe("Now is silent.");
  expect(loudnessSentence(mix, "before", true).replaceAll("\u00a0", " ")).toMatch(
    /^Before is played 3 dB quieter here/,
  );
  expect(loudnessSentence(mix, "wire", true)).toMatch(/^The wire is the quietest here/);
});

test("the only one that sounds is said to be", () => {
  const mix = levels({before: -23, now: -Infinity}, true);
  expect(loudnessSentence(mix, "before", true)).toBe("Before is the only one to be heard; nothing is turned down.");
});
