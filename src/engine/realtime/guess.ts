/**
 * Weights of where a law stood one, two, three and four steps ago in the guess where it will stand now: the cubic through the
 * four, read one step further on. With it most steps of a note take one round of Newton's method, where two took a straight line.
 */
export const guessWeights = [4, -6, 4, -1] as const;

/** How many steps before the last are remembered for it. */
export const pastSteps = guessWeights.length - 1;
