import {expect, test} from "vitest";
import {
  bendAt,
  cubicCoefficients,
  cubicSlopeWeights,
  cubicWeights,
  inverseMatrix,
  pairEigenvalue,
  placeBefore,
  projectors,
  realEigenvalue,
  stageNodes,
} from "../../../src/engine/realtime/radau-five.ts";

// Source: Hairer and Wanner, Solving ODEs II, table IV.5.6 and section IV.8 [from memory]; each closed form is held to what follows from it.
const root = Math.sqrt(6);
const matrix = [
  [(88 - 7 * root) / 360, (296 - 169 * root) / 1800, (-2 + 3 * root) / 225],
  [(296 + 169 * root) / 1800, (88 + 7 * root) / 360, (-2 - 3 * root) / 225],
  [(16 - root) / 36, (16 + root) / 36, 1 / 9],
];
const product = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]) =>
  a.map((row) => row.map((_, j) => row.reduce((sum, value, k) => sum + value * b[k]![j]!, 0)));

test("the inverse from the collocation is that of the published matrix", () => {
  product(matrix, inverseMatrix).forEach((row, i) =>
    row.forEach((value, j) => expect(value).toBeCloseTo(i === j ? 1 : 0, 13)),
  );
});

test("its rows integrate a slope that is a parabola without error", () => {
  for (const power of [1, 2, 3])
    matrix.forEach((row, i) => {
      const sum = row.reduce((total, weight, j) => total + weight * power * stageNodes[j]! ** (power - 1), 0);
      expect(sum).toBeCloseTo(stageNodes[i]! ** power, 14);
    });
});

test("the eigenvalues are roots of the denominator of the method's stability function", () => {
  expect(realEigenvalue ** 3 - 9 * realEigenvalue ** 2 + 36 * realEigenvalue).toBeCloseTo(60, 12);
  const {re, im} = pairEigenvalue;
  // A cubic's roots add up to 9 and multiply to 60.
  expect(realEigenvalue + 2 * re).toBeCloseTo(9, 13);
  expect(realEigenvalue * (re * re + im * im)).toBeCloseTo(60, 12);
});

test("the projectors put the matrix together again, and its inverse", () => {
  const {real, pairRe, pairIm} = projectors;
  const {re, im} = pairEigenvalue;
  const size = re * re + im * im;
  for (const i of [0, 1, 2])
    for (const j of [0, 1, 2]) {
      const [a, b, c] = [real[i]![j]!, pairRe[i]![j]!, pairIm[i]![j]!];
      expect(a + b).toBeCloseTo(i === j ? 1 : 0, 13);
      expect(realEigenvalue * a + re * b - im * c).toBeCloseTo(inverseMatrix[i]![j]!, 12);
      expect(a / realEigenvalue + (re * b + im * c) / size).toBeCloseTo(matrix[i]![j]!, 13);
    }
});

test("the error estimate's weights are the published ones", () => {
  const [, ...weights] = cubicSlopeWeights(0);
  const published = [13 + 7 * root, 13 - 7 * root, 1].map((value) => value / 3);
  weights.forEach((weight, k) => expect(weight).toBeCloseTo(published[k]!, 12));
});

test("the cubic through start and stages is exact for cubics, and a bend is 0 at each of them", () => {
  const of = (x: number) => 2 - 3 * x + 5 * x ** 2 - 7 * x ** 3;
  const values = [0, ...stageNodes].map(of);
  const at = (weights: readonly number[]) => weights.reduce((sum, weight, k) => sum + weight * values[k]!, 0);
  for (const x of [-0.4, 0.3, 1.7]) {
    expect(at(cubicWeights(x))).toBeCloseTo(of(x), 11);
    expect(at(cubicSlopeWeights(x))).toBeCloseTo(-3 + 10 * x - 21 * x ** 2, 11);
  }
  cubicCoefficients.forEach((row, power) => expect(at(row)).toBeCloseTo([2, -3, 5, -7][power]!, 11));
  for (const node of [0, ...stageNodes]) expect(Math.abs(bendAt(node))).toBe(0);
  // A step half as long as the one before: that one's second stage lies twice as far back.
  expect(placeBefore(0.5)).toBeCloseTo(2 * (stageNodes[1] - 1), 15);
});
