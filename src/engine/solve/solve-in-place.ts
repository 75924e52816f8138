/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is below the sizes the arrays are made with */
/** Solves A·X = B for `width` columns, in place of B; A is used up. Gauss with partial pivoting; false if A is singular. */
export function solveInPlace(size: number, a: Float64Array, b: Float64Array, width: number): boolean {
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(a[i * size + k]!) > Math.abs(a[best * size + k]!)) best = i;
    if (best !== k) {
      for (let j = k; j < size; j++) {
        const held = a[k * size + j]!;
        a[k * size + j] = a[best * size + j]!;
        a[best * size + j] = held;
      }
      for (let j = 0; j < width; j++) {
        const held = b[k * width + j]!;
        b[k * width + j] = b[best * width + j]!;
        b[best * width + j] = held;
      }
    }
    const pivot = a[k * size + k]!;
    if (!(Math.abs(pivot) > 0)) return false;
    for (let i = k + 1; i < size; i++) {
      const factor = a[i * size + k]! / pivot;
      if (factor === 0) continue;
      for (let j = k + 1; j < size; j++) a[i * size + j]! -= factor * a[k * size + j]!;
      for (let j = 0; j < width; j++) b[i * width + j]! -= factor * b[k * width + j]!;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    for (let j = 0; j < width; j++) {
      let sum = b[k * width + j]!;
      for (let i = k + 1; i < size; i++) sum -= a[k * size + i]! * b[i * width + j]!;
      b[k * width + j] = sum / a[k * size + k]!;
    }
  }
  return true;
}
