/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {bendAt, cubicCoefficients, placeBefore, stageNodes} from "./radau-five.ts";
import {rungsPerOctave} from "./step-ladder.ts";

/** How outputs run between the ends of a step, over the step's share that has passed, 0 to 1. */
export type StepCurve = Readonly<{
  /** Of each output from x⁰ to x⁴, once it is drawn. */
  coefficients: Float64Array;
  /** Draws the curves through the last step's outputs. */
  draw: () => void;
  /** Tells that a step of this rung was made. */
  after: (rung: number) => void;
}>;

/**
 * Curves of fourth order through start, stages and end of a step, and the last stage of the step before: one order more than the
 * collocation's own cubic, which is what would be least exact of all where laws hold a voltage tightly.
 *
 * @param output the step's, `width` side by side
 */
export function stepCurve(width: number, output: Float64Array): StepCurve {
  const coefficients = new Float64Array(5 * width);
  let [last, before] = [Number.NaN, Number.NaN];

  const draw = (): void => {
    // Where the stage before lies; no number in a run's first step, which goes without.
    const back = placeBefore(2 ** ((before - last) / rungsPerOctave));
    for (let k = 0; k < width; k++) {
      let y0 = output[width + k]!;
      const y1 = output[2 * width + k]!;
      const y2 = output[3 * width + k]!;
      const y3 = output[4 * width + k]!;
      // What the outputs were before they jumped with the signal is not known: the stages are led back to the start.
      if (!(back < 0)) y0 = toStart[0]! * y1 + toStart[1]! * y2 + toStart[2]! * y3;
      const a = linear[0]! * y0 + linear[1]! * y1 + linear[2]! * y2 + linear[3]! * y3;
      const b = square[0]! * y0 + square[1]! * y1 + square[2]! * y2 + square[3]! * y3;
      const c = cubic[0]! * y0 + cubic[1]! * y1 + cubic[2]! * y2 + cubic[3]! * y3;
      const missed = output[k]! - (y0 + back * (a + back * (b + back * c)));
      const d = back < 0 ? missed / bendAt(back) : 0;
      const at = 5 * k;
      coefficients[at] = y0;
      coefficients[at + 1] = a - 0.1 * d;
      coefficients[at + 2] = b + 0.9 * d;
      coefficients[at + 3] = c - 1.8 * d;
      coefficients[at + 4] = d;
    }
  };
  const after = (rung: number): void => {
    before = last;
    last = rung;
  };
  return {coefficients, draw, after};
}

const [, linear, square, cubic] = cubicCoefficients.map((row) => Float64Array.from(row)) as [
  Float64Array,
  Float64Array,
  Float64Array,
  Float64Array,
];
/** Weights of the three stages in the parabola through them, read at the start. */
const toStart = (() => {
  const [one, two, three] = stageNodes;
  return [
    (two * three) / ((one - two) * (one - three)),
    (one * three) / ((two - one) * (two - three)),
    (one * two) / ((three - one) * (three - two)),
  ];
})();
