/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
/**
 * Three-stage Radau IIA, order 5, as collocation: the cubic through a step's start that obeys the equations at three nodes.
 *
 * Source: Hairer and Wanner, Solving Ordinary Differential Equations II, sections IV.5 and IV.8 [from memory]. All that follows from
 * the nodes is computed here, and held to the book's closed forms by a test.
 */

/** Where in a step its stages lie: (4 ∓ √6)/10 and the end. */
export const stageNodes = [(4 - Math.sqrt(6)) / 10, (4 + Math.sqrt(6)) / 10, 1] as const;

/** Start and stages: what the cubic of a step goes through. */
const cubicNodes = [0, ...stageNodes] as const;

/** Weights of the cubic's values at its start and its three stages in its value at `place`, in steps from its start. */
export function cubicWeights(place: number): readonly number[] {
  return cubicNodes.map((node, i) =>
    cubicNodes.reduce((product, other, j) => (j === i ? product : (product * (place - other)) / (node - other)), 1),
  );
}

/** The same for its slope, per step. */
export function cubicSlopeWeights(place: number): readonly number[] {
  return cubicNodes.map((node, i) => {
    const others = cubicNodes.filter((_, j) => j !== i);
    const below = others.reduce((product, other) => product * (node - other), 1);
    const sum = others.reduce(
      (total, _, k) => total + others.reduce((product, other, j) => (j === k ? product : product * (place - other)), 1),
      0,
    );
    return sum / below;
  });
}

/** Row-major: coefficients of x⁰ to x³ of the cubic from its values at start and stages. */
export const cubicCoefficients: readonly (readonly number[])[] = (() => {
  const columns = cubicNodes.map((node, i) => {
    let polynomial = [1];
    let below = 1;
    cubicNodes.forEach((other, j) => {
      if (j === i) return;
      below *= node - other;
      const next = new Array<number>(polynomial.length + 1).fill(0);
      polynomial.forEach((factor, power) => {
        next[power + 1]! += factor;
        next[power]! -= other * factor;
      });
      polynomial = next;
    });
    return polynomial.map((factor) => factor / below);
  });
  return [0, 1, 2, 3].map((power) => columns.map((column) => column[power]!));
})();

/** What a curve of fourth order may have that no cubic tells of: 0 at start and stages. */
export function bendAt(place: number): number {
  return cubicNodes.reduce((product, node) => product * (place - node), 1);
}

/** Where the last stage but one of the step before lies, in steps from the start of one `ratio` times as long. */
export function placeBefore(ratio: number): number {
  return (stageNodes[1] - 1) / ratio;
}

/** The inverse of the method's matrix: slopes at the stages, per step, from the stages less the start. */
export const inverseMatrix: readonly (readonly number[])[] = stageNodes.map((node) => cubicSlopeWeights(node).slice(1));

/** Eigenvalues of that matrix, the roots of λ³ − 9λ² + 36λ − 60: one real, and one pair. */
export const realEigenvalue = 3 + Math.cbrt(9) - Math.cbrt(3);
export const pairEigenvalue = {
  re: 3 + (Math.cbrt(3) - Math.cbrt(9)) / 2,
  im: (3 ** (5 / 6) + 3 ** (7 / 6)) / 2,
} as const;

/**
 * Projectors of the inverse matrix W onto its eigenvectors: any function of it is f(W) = f(γ)·real + Re(f(μ)·pair), so that the
 * equations of three stages come apart into one set with a real and one with a complex step.
 */
export const projectors: Readonly<Record<"real" | "pairRe" | "pairIm", readonly (readonly number[])[]>> = (() => {
  const W = inverseMatrix;
  const γ = realEigenvalue;
  const {re: α, im: β} = pairEigenvalue;
  const square = W.map((row) => row.map((_, j) => row.reduce((sum, value, k) => sum + value * W[k]![j]!, 0)));
  const one = (i: number, j: number) => (i === j ? 1 : 0);
  const each = (f: (i: number, j: number) => number) => W.map((row, i) => row.map((_, j) => f(i, j)));
  const real = each(
    (i, j) => (square[i]![j]! - 2 * α * W[i]![j]! + (α * α + β * β) * one(i, j)) / (γ * γ - 2 * α * γ + α * α + β * β),
  );
  // 2·(W − γ)(W − μ*)/((μ − γ)(μ − μ*)), and μ − μ* = 2jβ.
  const below = {re: -β * β, im: β * (α - γ)};
  const size = below.re ** 2 + below.im ** 2;
  const above = {
    re: each((i, j) => square[i]![j]! - (γ + α) * W[i]![j]! + γ * α * one(i, j)),
    im: each((i, j) => β * (W[i]![j]! - γ * one(i, j))),
  };
  const pairRe = each((i, j) => (above.re[i]![j]! * below.re + above.im[i]![j]! * below.im) / size);
  const pairIm = each((i, j) => (above.im[i]![j]! * below.re - above.re[i]![j]! * below.im) / size);
  return {real, pairRe, pairIm};
})();
