import {blindResult, type Trial} from "./blind-test.ts";
import {resultHeading, resultSentences} from "./result-text.ts";

/** What a record of a test holds beside its trials: what A and B were, the phrase, the address that brings the test back. */
export type TestFacts = Readonly<{differs: string; phrase: string; address: string; day: string}>;

/** A test and its result as plain text, to keep or to hand in: what was compared, every answer, what it shows. */
export function resultFile(trials: readonly Trial[], {differs, phrase, address, day}: TestFacts): string {
  const result = blindResult(trials);
  const rows = trials.map(({x, answer}, k) =>
    [k + 1, x.toUpperCase(), answer.toUpperCase(), x === answer ? "right" : "wrong"].join("\t"),
  );
  return [
    `Blind test, ${day}`,
    resultHeading(result),
    resultSentences(result),
    "",
    `A was before, B was now. From before to now: ${differs}`,
    `Phrase: ${phrase}`,
    `The same test again: ${address}`,
    "",
    "trial\tX was\tanswer\t",
    ...rows,
    "",
  ].join("\n");
}
