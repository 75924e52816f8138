/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
/**
 * Dense real LU decomposition with row scaling and partial pivoting, in place, row-major.
 *
 * @param rowOrder receives the order in which rows were taken
 * @returns −1, or the column where no pivot was left: that unknown is not determined
 *
 * Method: Doolittle's; pivot of largest size relative to its row's largest entry (Golub and Van Loan, ch. 3 [from memory]).
 */
export function factorReal(size: number, matrix: Float64Array, rowOrder: Int32Array): number {
  const largest = new Float64Array(size);
  for (let row = 0; row < size; row++) {
    rowOrder[row] = row;
    for (let column = 0; column < size; column++) {
      largest[row] = Math.max(largest[row]!, Math.abs(matrix[row * size + column]!)); // in range throughout
    }
  }
  for (let k = 0; k < size; k++) {
    let best = k;
    let bestRatio = 0;
    for (let row = k; row < size; row++) {
      const relative = Math.abs(matrix[row * size + k]!) / (largest[row]! || 1);
      if (relative > bestRatio) [bestRatio, best] = [relative, row];
    }
    if (!(bestRatio > 0)) return k;
    if (best !== k) {
      for (let column = 0; column < size; column++) {
        const [a, b] = [k * size + column, best * size + column];
        [matrix[a], matrix[b]] = [matrix[b]!, matrix[a]!];
      }
      [rowOrder[k], rowOrder[best]] = [rowOrder[best]!, rowOrder[k]!];
      [largest[k], largest[best]] = [largest[best]!, largest[k]!];
    }
    const pivot = matrix[k * size + k]!;
    for (let row = k + 1; row < size; row++) {
      const factor = matrix[row * size + k]! / pivot;
      if (factor === 0) continue;
      matrix[row * size + k] = factor;
      for (let column = k + 1; column < size; column++) {
        matrix[row * size + column]! -= factor * matrix[k * size + column]!;
      }
    }
  }
  return -1;
}

/** Solves A·x = b from the factors of A; `b` is left as it was. */
export function solveReal(
  size: number,
  matrix: Float64Array,
  rowOrder: Int32Array,
  b: Float64Array,
  x: Float64Array,
): void {
  for (let row = 0; row < size; row++) {
    let sum = b[rowOrder[row]!]!;
    for (let column = 0; column < row; column++) sum -= matrix[row * size + column]! * x[column]!;
    x[row] = sum;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = x[row]!;
    for (let column = row + 1; column < size; column++) sum -= matrix[row * size + column]! * x[column]!;
    x[row] = sum / matrix[row * size + row]!;
  }
}
