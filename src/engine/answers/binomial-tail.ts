/**
 * The probability of at least `correct` right answers out of `trials`, each right with probability `chance` (guessing
 * between two: one half, the default). One-sided.
 *
 * Method: the sum of the binomial distribution's terms from the rarest up; all are positive, so no digits are lost.
 *
 * @throws {RangeError} unless 0 ≤ correct ≤ trials are whole numbers, and 0 < chance < 1
 */
export function binomialTail(correct: number, trials: number, chance = 0.5): number {
  if (!Number.isInteger(correct) || !Number.isInteger(trials) || correct < 0 || correct > trials) {
    throw new RangeError(`right answers must be whole numbers from 0 to the trials, got ${correct} of ${trials}`);
  }
  if (!(chance > 0 && chance < 1)) throw new RangeError(`chance must lie between 0 and 1, got ${chance}`);
  let term = chance ** trials;
  let sum = term;
  for (let k = trials; k > correct; k--) {
    term *= (k / (trials - k + 1)) * ((1 - chance) / chance);
    sum += term;
  }
  return Math.min(1, sum);
}

/**
 * The least number of right answers out of `trials` that guessing reaches with a probability below `level`, 5 % by
 * default; undefined where not even all of them would do.
 */
export function leastCorrect(trials: number, level = 0.05): number | undefined {
  for (let correct = 0; correct <= trials; correct++) {
    if (binomialTail(correct, trials) < level) return correct;
  }
  return undefined;
}

/** The probability that at least one of `tries` independent tries comes off, each with probability `chance`. */
export const atLeastOneOf = (tries: number, chance: number): number => 1 - (1 - chance) ** tries;
