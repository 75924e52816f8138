/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {columnsOf, responseAt, type LinearResponse} from "./linear-response.ts";
import {cubicSlopeWeights, inverseMatrix, pairEigenvalue, projectors, realEigenvalue} from "./radau-five.ts";
import {stages, type RadauFiveSizes} from "./radau-five-step.ts";

/** Where the parts of a model begin: rows of its first matrix, and its second. */
export function modelPlaces({states: n, ports: g, outputs: r, columns: c}: Omit<RadauFiveSizes, "laws">) {
  const [outputs, memory] = [stages * g, stages * (g + r)];
  const [rows, across] = [memory + 3 * n, n + stages + 1 + stages * c];
  const smooth = rows * across;
  return {outputs, memory, sums: n + stages + 1, across, smooth, length: smooth + (n + g + r) * (n + c)};
}

/**
 * Coefficients of a step of three-stage Radau IIA, `seconds` long: two matrices, row-major.
 *
 * - Rows: ports, outputs (stage by stage), memory at the end, slope of the memory's cubic at its start, slope at its end.
 *   Columns: memory, signal (stage by stage), 1, sums of the laws (stage by stage).
 * - (G + (γ/h)·C)⁻¹, which smooths the error estimate. Rows: memory, ports, outputs of one stage. Columns: memory, laws of one stage.
 *
 * Method: the inverse of the method's matrix is taken apart into its eigenvalues, so that the three stages' equations become one real
 * and one complex set; Hairer and Wanner, Solving ODEs II, section IV.8 [from memory].
 *
 * @param known a response at a rate not far from 1/`seconds`
 */
export function radauFiveModel(known: LinearResponse, seconds: number): Float64Array {
  const {states: n, ports: g, outputs: r, columns: c} = known;
  const perSecond = 1 / seconds;
  const width = columnsOf(known);
  const real = responseAt(known, realEigenvalue * perSecond, 0).re;
  const pair = responseAt(known, pairEigenvalue.re * perSecond, pairEigenvalue.im * perSecond);
  const {real: ofReal, pairRe, pairIm} = projectors;
  /** What stage i answers to what stands at entry `at` of the response, at stage j. */
  const entry = (i: number, j: number, at: number): number =>
    ofReal[i]![j]! * real[at]! + pairRe[i]![j]! * pair.re[at]! - pairIm[i]![j]! * pair.im[at]!;

  const places = modelPlaces(known);
  const {across} = places;
  const coefficients = new Float64Array(places.length);
  const fromStart = inverseMatrix.map((row) => perSecond * row.reduce((sum, value) => sum + value, 0));
  /** Adds row `source` of the response at stage i, `times`, to row `to`. */
  const add = (to: number, source: number, i: number, times: number): void => {
    const from = source * width;
    let at = to * across;
    for (let k = 0; k < n; k++, at++)
      for (let j = 0; j < stages; j++) coefficients[at]! += times * fromStart[j]! * entry(i, j, from + k);
    for (let j = 0; j < stages; j++) coefficients[at++]! += times * entry(i, j, from + n);
    for (let j = 0; j < stages; j++) coefficients[at]! += times * entry(i, j, from + n + 1);
    at++;
    for (let j = 0; j < stages; j++)
      for (let k = 0; k < c; k++) coefficients[at++]! += times * entry(i, j, from + n + 2 + k);
  };
  for (let i = 0; i < stages; i++) {
    for (let k = 0; k < g; k++) add(i * g + k, n + k, i, 1);
    for (let k = 0; k < r; k++) add(places.outputs + i * r + k, n + g + k, i, 1);
  }
  for (let k = 0; k < n; k++) add(places.memory + k, k, stages - 1, 1);
  [0, 1].forEach((place, which) => {
    const weights = cubicSlopeWeights(place);
    for (let k = 0; k < n; k++) {
      const row = places.memory + (1 + which) * n + k;
      for (let i = 0; i < stages; i++) add(row, k, i, perSecond * weights[i + 1]!);
      coefficients[row * across + k]! += perSecond * weights[0]!;
    }
  });
  for (let row = 0, at = places.smooth; row < n + g + r; row++) {
    for (let k = 0; k < n; k++) coefficients[at++] = real[row * width + k]!;
    for (let k = 0; k < c; k++) coefficients[at++] = real[row * width + n + 2 + k]!;
  }
  return coefficients;
}
