import fc from "fast-check";
import {expect, test} from "vitest";
import {factorReal, solveReal} from "../../../src/engine/solve/real-lu.ts";
import {sparseComplex} from "../../../src/engine/solve/sparse-complex.ts";
import {sparsePlan} from "../../../src/engine/solve/sparse-plan.ts";

const entry = fc.double({min: -1, max: 1, noNaN: true, noDefaultInfinity: true});

test("real elimination solves what it was given, row scales of twelve decades or not", () => {
  fc.assert(
    fc.property(
      fc.array(entry, {minLength: 25, maxLength: 25}),
      fc.array(entry, {minLength: 5, maxLength: 5}),
      fc.integer({min: -6, max: 6}),
      (cells, right, power) => {
        // A strong diagonal keeps the condition number below 10, so that the answer's digits are known.
        const matrix = Float64Array.from(
          cells,
          (cell, k) => (cell + (k % 6 === 0 ? 8 : 0)) * (k < 5 ? 10 ** power : 1),
        );
        const b = Float64Array.from(right);
        const [factors, order, x] = [Float64Array.from(matrix), new Int32Array(5), new Float64Array(5)];
        expect(factorReal(5, factors, order)).toBe(-1);
        solveReal(5, factors, order, b, x);
        for (let row = 0; row < 5; row++) {
          const sum = x.reduce((total, value, column) => total + value * (matrix[row * 5 + column] ?? 0), 0);
          const size = x.reduce((total, value, column) => total + Math.abs(value * (matrix[row * 5 + column] ?? 0)), 0);
          expect(Math.abs(sum - (b[row] ?? 0))).toBeLessThanOrEqual(
            1e-13 * size + 1e-13 * Math.abs(b[row] ?? 0) + 1e-300,
          ); // rounding of five terms
        }
      },
    ),
    {seed: 1, numRuns: 200},
  );
});

test("a singular matrix names the unknown that nothing determines", () => {
  const matrix = Float64Array.of(1, 0, 0, 0, 0, 0, 0, 0, 1);
  expect(factorReal(3, matrix, new Int32Array(3))).toBe(1);
  expect(
    sparsePlan(2, Int32Array.of(0, 1), Int32Array.of(0, 0), Float64Array.of(1, 1), Float64Array.of(0, 0)),
  ).toBeUndefined();
});

test("the planned elimination solves a small complex system, plain and transposed, and may be run again", () => {
  // [[2, j], [1, 1 + j]]·x = [1, 0]: the determinant is 2 + j.
  const plan = sparsePlan(
    2,
    Int32Array.of(0, 0, 1, 1),
    Int32Array.of(0, 1, 0, 1),
    Float64Array.of(2, 0, 1, 1),
    Float64Array.of(0, 1, 0, 1),
  );
  if (plan === undefined) throw new Error("the matrix is regular");
  const matrix = sparseComplex(plan);
  for (let run = 0; run < 2; run++) {
    matrix.re.set([2, 0, 1, 1]);
    matrix.im.set([0, 1, 0, 1]);
    expect(matrix.factor()).toBe(true);
    const [re, im] = [Float64Array.of(1, 0), Float64Array.of(0, 0)];
    matrix.solve(re, im);
    // By Cramer: x0 = (1 + j)/(2 + j) = (3 + j)/5, x1 = −1/(2 + j) = (−2 + j)/5.
    [0.6, -0.4].forEach((value, k) => expect(re[k]).toBeCloseTo(value, 15));
    [0.2, 0.2].forEach((value, k) => expect(im[k]).toBeCloseTo(value, 15));
    const [tRe, tIm] = [Float64Array.of(1, 0), Float64Array.of(0, 0)];
    matrix.solveTransposed(tRe, tIm);
    // Transposed: x0 = (1 + j)/(2 + j), x1 = −j/(2 + j) = (−1 − 2j)/5.
    [0.6, -0.2].forEach((value, k) => expect(tRe[k]).toBeCloseTo(value, 15));
    [0.2, -0.4].forEach((value, k) => expect(tIm[k]).toBeCloseTo(value, 15));
  }
});
