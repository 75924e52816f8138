import {binomialTail, leastCorrect} from "../../engine/answers/binomial-tail.ts";

/** One of the two sounds; X is one of them again. */
export type Side = "a" | "b";

/** One trial that is over: what X was, and what the listener took it for. */
export type Trial = Readonly<{x: Side; answer: Side}>;

/** How many trials there may be. Chosen beforehand: who goes on until it fits passes with any two sounds. */
export const trialCounts = [10, 12, 16, 20] as const;
export type TrialCount = (typeof trialCounts)[number];

/** How many right answers a test of so many trials needs: guessing reaches them in less than 5 of 100 tests. */
export function markOf(trials: number): number {
  const mark = leastCorrect(trials);
  if (mark === undefined) throw new RangeError(`${trials} trials are too few for a mark`);
  return mark;
}

/** What a whole test has shown: right answers, mark, and how often guessing alone does as well or better. */
export type BlindResult = Readonly<{correct: number; trials: number; mark: number; guessing: number; passed: boolean}>;

export function blindResult(trials: readonly Trial[]): BlindResult {
  const correct = trials.filter(({x, answer}) => x === answer).length;
  const mark = markOf(trials.length);
  return {
    correct,
    trials: trials.length,
    mark,
    guessing: binomialTail(correct, trials.length),
    passed: correct >= mark,
  };
}
