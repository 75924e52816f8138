/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
/**
 * Dense complex LU decomposition with partial pivoting, in place, on row-major typed arrays.
 *
 * `rowOrder` receives the order in which rows were taken. Returns false if a pivot is exactly zero: the matrix is singular.
 *
 * Method: Doolittle's, row by row, pivot of largest modulus (Golub and Van Loan, Matrix Computations, ch. 3 [from memory]).
 */
export function factorComplex(size: number, re: Float64Array, im: Float64Array, rowOrder: Int32Array): boolean {
  for (let k = 0; k < size; k++) rowOrder[k] = k;
  for (let k = 0; k < size; k++) {
    let best = k;
    let largest = -1;
    for (let row = k; row < size; row++) {
      const at = row * size + k;
      const modulus = re[at]! * re[at]! + im[at]! * im[at]!; // in range: row and k are below size
      if (modulus <= largest) continue;
      largest = modulus;
      best = row;
    }
    if (!(largest > 0)) return false;
    if (best !== k) swapRows(size, re, im, rowOrder, k, best);
    const pr = re[k * size + k]!;
    const pi = im[k * size + k]!;
    const scale = 1 / (pr * pr + pi * pi);
    for (let row = k + 1; row < size; row++) {
      const at = row * size + k;
      const ar = re[at]!;
      const ai = im[at]!;
      if (ar === 0 && ai === 0) continue;
      // A branch that leads nowhere takes itself out exactly: its rounding would be a conductance where there is none.
      const opposite = ar === -pr && ai === -pi;
      const fr = opposite ? -1 : (ar * pr + ai * pi) * scale;
      const fi = opposite ? 0 : (ai * pr - ar * pi) * scale;
      re[at] = fr;
      im[at] = fi;
      for (let column = k + 1; column < size; column++) {
        const from = k * size + column;
        const to = row * size + column;
        const br = re[from]!;
        const bi = im[from]!;
        re[to]! -= fr * br - fi * bi;
        im[to]! -= fr * bi + fi * br;
      }
    }
  }
  return true;
}

function swapRows(size: number, re: Float64Array, im: Float64Array, rowOrder: Int32Array, a: number, b: number): void {
  for (let column = 0; column < size; column++) {
    const first = a * size + column;
    const second = b * size + column;
    [re[first], re[second]] = [re[second]!, re[first]!];
    [im[first], im[second]] = [im[second]!, im[first]!];
  }
  [rowOrder[a], rowOrder[b]] = [rowOrder[b]!, rowOrder[a]!];
}

/** Solves A·x = b from the factors of A. `b` is left as it was; x is written to `xRe`, `xIm`. */
export function solveComplex(
  size: number,
  re: Float64Array,
  im: Float64Array,
  rowOrder: Int32Array,
  bRe: Float64Array,
  bIm: Float64Array,
  xRe: Float64Array,
  xIm: Float64Array,
): void {
  for (let row = 0; row < size; row++) {
    let sr = bRe[rowOrder[row]!]!;
    let si = bIm[rowOrder[row]!]!;
    for (let column = 0; column < row; column++) {
      const at = row * size + column;
      sr -= re[at]! * xRe[column]! - im[at]! * xIm[column]!;
      si -= re[at]! * xIm[column]! + im[at]! * xRe[column]!;
    }
    xRe[row] = sr;
    xIm[row] = si;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sr = xRe[row]!;
    let si = xIm[row]!;
    for (let column = row + 1; column < size; column++) {
      const at = row * size + column;
      sr -= re[at]! * xRe[column]! - im[at]! * xIm[column]!;
      si -= re[at]! * xIm[column]! + im[at]! * xRe[column]!;
    }
    const pr = re[row * size + row]!;
    const pi = im[row * size + row]!;
    const scale = 1 / (pr * pr + pi * pi);
    xRe[row] = (sr * pr + si * pi) * scale;
    xIm[row] = (si * pr - sr * pi) * scale;
  }
}

/** Solves Aᵀ·x = b (transposed, not conjugated) from the factors of A; `b` is left as it was. */
export function solveComplexTransposed(
  size: number,
  re: Float64Array,
  im: Float64Array,
  rowOrder: Int32Array,
  bRe: Float64Array,
  bIm: Float64Array,
  xRe: Float64Array,
  xIm: Float64Array,
): void {
  const zRe = new Float64Array(size);
  const zIm = new Float64Array(size);
  for (let row = 0; row < size; row++) {
    let sr = bRe[row]!;
    let si = bIm[row]!;
    for (let k = 0; k < row; k++) {
      const at = k * size + row;
      sr -= re[at]! * zRe[k]! - im[at]! * zIm[k]!;
      si -= re[at]! * zIm[k]! + im[at]! * zRe[k]!;
    }
    const pr = re[row * size + row]!;
    const pi = im[row * size + row]!;
    const scale = 1 / (pr * pr + pi * pi);
    zRe[row] = (sr * pr + si * pi) * scale;
    zIm[row] = (si * pr - sr * pi) * scale;
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let k = row + 1; k < size; k++) {
      const at = k * size + row;
      zRe[row]! -= re[at]! * zRe[k]! - im[at]! * zIm[k]!;
      zIm[row]! -= re[at]! * zIm[k]! + im[at]! * zRe[k]!;
    }
  }
  for (let row = 0; row < size; row++) {
    xRe[rowOrder[row]!] = zRe[row]!;
    xIm[rowOrder[row]!] = zIm[row]!;
  }
}
