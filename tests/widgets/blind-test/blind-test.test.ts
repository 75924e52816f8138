import {expect, test} from "vitest";
import {blindResult, markOf, trialCounts, type Side, type Trial} from "../../../src/widgets/blind-test/blind-test.ts";
import {fairPair} from "../../../src/widgets/blind-test/fair-pair.ts";
import {resultFile} from "../../../src/widgets/blind-test/result-file.ts";
import {resultHeading, resultSentences} from "../../../src/widgets/blind-test/result-text.ts";
import {integratedLoudness} from "../../../src/engine/sound/loudness.ts";
import {peak} from "../../../src/engine/sound/samples.ts";

/** So many trials, the first `right` of them answered rightly, X changing from one to the next. */
const trials = (count: number, right: number): readonly Trial[] =>
  Array.from({length: count}, (_, k) => {
    const [x, other]: readonly Side[] = k % 2 === 0 ? ["a", "b"] : ["b", "a"];
    return {x: x ?? "a", answer: (k < right ? x : other) ?? "a"};
  });

test("the marks are 9 of 10, 10 of 12, 12 of 16, 15 of 20", () => {
  expect(trialCounts.map((count) => [count, markOf(count)])).toEqual([
    [10, 9],
    [12, 10],
    [16, 12],
    [20, 15],
  ]);
});

test("the mark itself passes, one less does not", () => {
  for (const count of trialCounts) {
    expect(blindResult(trials(count, markOf(count))).passed).toBe(true);
    expect(blindResult(trials(count, markOf(count) - 1)).passed).toBe(false);
  }
});

test("a pass is told with how often guessing gets there, and claims no more than it shows", () => {
  const result = blindResult(trials(16, 13));
  expect(resultHeading(result)).toBe("13 of 16 right: you told them apart");
  expect(resultSentences(result)).toBe(
    "The mark set beforehand was 12. Guessing alone gets 13 or more right in 1.1\u00a0% of such tests. So it is unlikely that you only guessed: you heard a difference between these two sounds, in this phrase, here. It does not say which one is better.",
  );
});

test("a miss shows nothing either way, even where all are wrong", () => {
  expect(resultHeading(blindResult(trials(16, 11)))).toBe("11 of 16 right: nothing shown either way");
  expect(resultSentences(blindResult(trials(16, 11)))).toContain("has not shown that there is none");
  expect(resultHeading(blindResult(trials(10, 0)))).toBe("0 of 10 right: nothing shown either way");
  expect(resultSentences(blindResult(trials(20, 20)))).toContain("Guessing alone gets all 20 right in 0.000095\u00a0%");
});

test("a result to keep holds what was compared, every answer, and what it shows", () => {
  const text = resultFile(trials(10, 9), {
    differs: "C1: 33 nF to 470 pF.",
    phrase: "riff",
    address: "a#b",
    day: "2026-01-02",
  });
  const lines = text.split("\n");
  expect(lines.slice(0, 2)).toEqual(["Blind test, 2026-01-02", "9 of 10 right: you told them apart"]);
  expect(text).toContain("From before to now: C1: 33 nF to 470 pF.\nPhrase: riff\nThe same test again: a#b\n");
  expect(lines.slice(-12, -1)).toEqual([
    "trial\tX was\tanswer\t",
    ...trials(10, 9).map(
      ({x}, k) => `${k + 1}\t${x.toUpperCase()}\t${k < 9 ? `${x.toUpperCase()}\tright` : "A\twrong"}`,
    ),
  ]);
});

const rateHz = 48_000;
const tone = (gain: number, frequencyHz: number) => {
  const samples = Float32Array.from(
    {length: rateHz},
    (_, n) => gain * Math.sin((2 * Math.PI * frequencyHz * n) / rateHz),
  );
  return {samples, loudness: integratedLoudness(samples, rateHz)};
};

test("both sounds of a pair are equally loud, and neither meets the ceiling", () => {
  const pair = fairPair(tone(0.9, 200), tone(0.002, 3000));
  if (!pair.ok) throw new Error(pair.message);
  const [a, b] = [pair.a, pair.b].map((samples) => integratedLoudness(samples, rateHz));
  // A tenth of a loudness unit is what meters are built to (EBU Tech 3341); gain alone is a thousand times nearer.
  expect(Math.abs((a ?? NaN) - (b ?? NaN))).toBeLessThan(1e-4);
  expect(Math.max(peak(pair.a), peak(pair.b))).toBeLessThan(10 ** (-1 / 20));
});

test("a pair of one sound at two levels is no pair, and neither is silence", () => {
  expect(fairPair(tone(0.5, 200), tone(0.25, 200))).toEqual({
    ok: false,
    message: "Before and now sound exactly alike: there is nothing to tell apart. Choose another pair.",
  });
  expect(fairPair(tone(0.5, 200), tone(0, 200))).toEqual({
    ok: false,
    message: "Now is silent or nearly so: turn it up on its bench, and open the test from there.",
  });
});
