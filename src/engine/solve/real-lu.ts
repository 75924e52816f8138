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
    let most = 0;
    for (let at = row * size; at < (row + 1) * size; at++) most = Math.max(most, Math.abs(matrix[at]!));
    largest[row] = most > 0 ? 1 / most : 1;
  }
  for (let k = 0; k < size; k++) {
    let best = k;
    let bestRatio = 0;
    for (let row = k; row < size; row++) {
      const ratio = Math.abs(matrix[row * size + k]!) * largest[row]!;
      if (ratio <= bestRatio) continue;
      bestRatio = ratio;
      best = row;
    }
    if (!(bestRatio > 0)) return k;
    if (best !== k) swapRows(size, matrix, rowOrder, largest, k, best);
    const from = k * size;
    const pivot = matrix[from + k]!;
    for (let row = k + 1; row < size; row++) {
      const to = row * size;
      const factor = matrix[to + k]! / pivot;
      if (factor === 0) continue;
      matrix[to + k] = factor;
      for (let column = k + 1; column < size; column++) matrix[to + column]! -= factor * matrix[from + column]!;
    }
  }
  return -1;
}

function swapRows(
  size: number,
  matrix: Float64Array,
  order: Int32Array,
  scale: Float64Array,
  a: number,
  b: number,
): void {
  for (let column = 0; column < size; column++) {
    const kept = matrix[a * size + column]!;
    matrix[a * size + column] = matrix[b * size + column]!;
    matrix[b * size + column] = kept;
  }
  const row = order[a]!;
  order[a] = order[b]!;
  order[b] = row;
  const factor = scale[a]!;
  scale[a] = scale[b]!;
  scale[b] = factor;
}

/** Whether the determinant of a factored matrix is negative: an odd number of negative pivots and swaps of rows. */
export function negativeDeterminant(size: number, matrix: Float64Array, rowOrder: Int32Array): boolean {
  let negative = false;
  for (let k = 0; k < size; k++) if (matrix[k * size + k]! < 0) negative = !negative;
  // A permutation is odd if it has an odd number of pairs out of order.
  for (let a = 0; a < size; a++)
    for (let b = a + 1; b < size; b++) if (rowOrder[a]! > rowOrder[b]!) negative = !negative;
  return negative;
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

/**
 * Solves A·X = B for `width` right sides at once from the factors of A; `b` and `x` are row-major, size × width, and `b` is left as
 * it was. Entries of A's factors that are 0 cost nothing: of a circuit's most are.
 */
export function solveRealColumns(
  size: number,
  matrix: Float64Array,
  rowOrder: Int32Array,
  b: Float64Array,
  x: Float64Array,
  width: number,
): void {
  const subtract = (row: number, column: number): void => {
    const factor = matrix[row * size + column]!;
    if (factor === 0) return;
    for (let k = 0, to = row * width, from = column * width; k < width; k++) x[to++]! -= factor * x[from++]!;
  };
  for (let row = 0; row < size; row++) {
    for (let k = 0, to = row * width, from = rowOrder[row]! * width; k < width; k++) x[to++] = b[from++]!;
    for (let column = 0; column < row; column++) subtract(row, column);
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let column = row + 1; column < size; column++) subtract(row, column);
    const inverse = 1 / matrix[row * size + row]!;
    for (let k = 0, at = row * width; k < width; k++) x[at++]! *= inverse;
  }
}

/**
 * Solves A·X = B as `solveRealColumns` does and once more for what that leaves: an elimination is as exact as the largest entry of a
 * column, this as each of its own equations, which a hundred thousand siemens beside a megohm need.
 *
 * @param a what was factored
 *
 * Source: Skeel, Iterative refinement implies numerical stability for Gaussian elimination, Math. Comp. 35 (1980) [from memory].
 */
export function solveRealColumnsTwice(
  size: number,
  a: Float64Array,
  factors: Float64Array,
  rowOrder: Int32Array,
  b: Float64Array,
  x: Float64Array,
  width: number,
): void {
  solveRealColumns(size, factors, rowOrder, b, x, width);
  const left = b.slice();
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      const factor = a[row * size + column]!;
      if (factor === 0) continue;
      for (let k = 0, to = row * width, from = column * width; k < width; k++) left[to++]! -= factor * x[from++]!;
    }
  }
  const more = new Float64Array(x.length);
  solveRealColumns(size, factors, rowOrder, left, more, width);
  for (let k = 0; k < x.length; k++) x[k]! += more[k]!;
}
