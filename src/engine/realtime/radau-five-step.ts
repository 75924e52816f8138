/** How an attempt at a step went: kept, or left without a trace for want of a solution, or of accuracy. */
export const outcomes = {good: 0, unsolved: 1, inaccurate: 2} as const;

/**
 * What a step of three-stage Radau IIA works on, of a circuit with some memories, outputs and, in one stage, laws. Models and guesses
 * have numbered places: each is written once, and named by its place from then on.
 */
export type RadauFiveMemory = Readonly<{
  /** A relative error, the largest error in tolerances that passes, an error in volts; then one for each memory. */
  tolerance: Float64Array;
  /** What each store holds: volts of capacitors, amperes of coils. */
  state: Float64Array;
  /** How that changes, per second. */
  slope: Float64Array;
  /** Where the laws stood at the start and the stages of the last step. */
  points: Float64Array;
  /** The signal at the stages: to be written before an attempt. */
  input: Float64Array;
  /** Outputs at the second stage of the step before the last, then at start and stages of the last. */
  output: Float64Array;
  /** The last attempt's error, in tolerances. */
  error: Float64Array;
  /** What follows from this step's length beside the last one's: a row of `radauFiveGuess`. */
  guess: (place: number) => Float64Array;
  /** Coefficients of a `RadauFiveModel`. */
  model: (place: number) => Float64Array;
}>;

/** The step and its memory. */
export type RadauFiveStep = RadauFiveMemory &
  Readonly<{
    /** Whether it runs as machine code. */
    compiled: boolean;
    /** Tries one step with the model and the guess at these places, and keeps it if it is good. */
    attempt: (model: number, guess: number) => number;
    /** The same with laws solved from wherever they stand: slow, for a step that no shortening has helped. */
    attemptHard: (model: number, guess: number) => number;
  }>;

/** Sizes of a circuit as a step sees it: laws of one stage, as the law table merges them. */
export type RadauFiveSizes = Readonly<Record<"states" | "ports" | "outputs" | "columns" | "laws", number>>;

export const stages = 3;

/** How many numbers a guess has. */
export const guessLength = stages * (stages + 1) + (stages + 1) + 1;

/** Share of the tolerance that may be left of the laws' equations. */
export const newtonShare = 0.01;
