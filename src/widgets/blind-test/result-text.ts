import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BlindResult} from "./blind-test.ts";

/** A probability in percent with two figures: "3.8 %". */
export const percentText = (probability: number): string => formatQuantity(100 * probability, "%", {figures: 2});

/** The result in one line, as a heading. */
export const resultHeading = ({correct, trials, passed}: BlindResult): string =>
  `${correct} of ${trials} right: ${passed ? "you told them apart" : "nothing shown either way"}`;

/** What that means, in plain words. */
export function resultSentences({correct, trials, mark, guessing, passed}: BlindResult): string {
  const often = `Guessing alone gets ${correct === trials ? `all ${trials}` : `${correct} or more`} right in ${percentText(guessing)} of such tests.`;
  return passed
    ? `The mark set beforehand was ${mark}. ${often} So it is unlikely that you only guessed: you heard a difference between these two sounds, in this phrase, here. It does not say which one is better.`
    : `The mark set beforehand was ${mark}. ${often} So this test has not shown that you hear a difference, and it has not shown that there is none: another phrase, other headphones or a rested ear may tell them apart.`;
}
