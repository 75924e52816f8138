import {expect, test} from "vitest";
import {atLeastOneOf, binomialTail, leastCorrect} from "../../../src/engine/answers/binomial-tail.ts";
import {published} from "../../reference-cases/published.ts";

// Exact fractions, and tables of published tools for blind tests; each row names its own source.
const rows = published("13_listening_tests");

test.each([
  [8, 10],
  [9, 10],
  [10, 12],
  [12, 15],
  [11, 16],
  [12, 16],
  [13, 16],
  [14, 16],
  [16, 16],
  [14, 20],
  [15, 20],
  [16, 20],
  [17, 25],
  [18, 25],
  [32, 50],
  [59, 100],
])("guessing gives at least %i right of %i as often as the exact fraction says", (correct, trials) => {
  rows.check(`abx.${correct}_of_${trials}`, binomialTail(correct, trials));
});

test("published tools for blind tests say the same to their three decimals", () => {
  rows.check("abx.published.8of10", [binomialTail(8, 10), binomialTail(9, 10), binomialTail(15, 20)]);
  rows.check("abx.published.12of16", [1 - binomialTail(12, 16), 1 - binomialTail(11, 16), 1 - binomialTail(13, 16)]);
  rows.check("abx.trap", [binomialTail(8, 10), binomialTail(11, 15), binomialTail(14, 20), binomialTail(17, 25)]);
});

test("a preference either way is guessed twice as often", () => {
  rows.check("pref.two", 2 * binomialTail(12, 16));
});

test("the marks from 5 to 30 trials are those of the published table", () => {
  const table = rows.table("minimum_correct") as readonly {
    trials: number;
    min_correct_p05: number;
    p_at_min: number;
    min_correct_p01: number | null;
  }[];
  expect(table).toHaveLength(26);
  for (const {trials, min_correct_p05, p_at_min, min_correct_p01} of table) {
    expect(leastCorrect(trials), `${trials} trials`).toBe(min_correct_p05);
    expect(leastCorrect(trials, 0.01) ?? null, `${trials} trials at 1 %`).toBe(min_correct_p01);
    expect(binomialTail(min_correct_p05, trials) / p_at_min).toBeCloseTo(1, 12); // printed to the last of 16 digits
  }
  rows.check("abx.table95", Object.fromEntries(Array.from({length: 16}, (_, k) => [k + 10, leastCorrect(k + 10)])));
  expect([10, 12, 16, 20].map((trials) => leastCorrect(trials))).toEqual([9, 10, 12, 15]);
});

test("a listener who hears more often passes more often, and many guessers pass now and then", () => {
  rows.check(
    "abx.power",
    [0.6, 0.7, 0.8, 0.9].map((chance) => binomialTail(12, 16, chance)),
  );
  rows.check(
    "abx.multi",
    [5, 10, 20].map((tries) => atLeastOneOf(tries, binomialTail(12, 16))),
  );
});

test("none or more are always right, and what cannot be is refused", () => {
  expect(binomialTail(0, 12)).toBeCloseTo(1, 15); // a sum of 13 terms
  expect(() => binomialTail(13, 12)).toThrow(
    new RangeError("right answers must be whole numbers from 0 to the trials, got 13 of 12"),
  );
  expect(() => binomialTail(1, 2, 1)).toThrow(new RangeError("chance must lie between 0 and 1, got 1"));
  expect(leastCorrect(4)).toBeUndefined();
});
