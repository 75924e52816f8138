import type {Harmonics} from "./harmonics.ts";

/** Ratios of voltage: 0.1 is 10 %. */
export type HarmonicDistortion = Readonly<{ofFundamental: number; ofTotal: number; even: number; odd: number}>;

/**
 * Total harmonic distortion from the harmonics that are given.
 *
 * `ofFundamental` (THD_F, IEC 61000-4-7) refers the harmonics to the fundamental, `ofTotal` (THD_R) to the RMS of the whole
 * without its steady part. `even` and `odd` are the shares of the even and of the odd harmonics from the third, over the
 * fundamental: their squares add up to that of `ofFundamental`. All are 0 for silence, Infinity without a fundamental.
 */
export function harmonicDistortion({amplitude}: Harmonics): HarmonicDistortion {
  const fundamental = amplitude[1] ?? 0;
  let evenSquares = 0;
  let oddSquares = 0;
  amplitude.forEach((each, k) => {
    if (k >= 2 && k % 2 === 0) evenSquares += each * each;
    if (k >= 3 && k % 2 === 1) oddSquares += each * each;
  });
  const squares = evenSquares + oddSquares;
  if (squares === 0) return {ofFundamental: 0, ofTotal: 0, even: 0, odd: 0};
  return {
    ofFundamental: Math.sqrt(squares) / fundamental,
    ofTotal: Math.sqrt(squares / (squares + fundamental * fundamental)),
    even: Math.sqrt(evenSquares) / fundamental,
    odd: Math.sqrt(oddSquares) / fundamental,
  };
}
