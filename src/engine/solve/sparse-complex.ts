/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {SparsePlan} from "./sparse-plan.ts";

/** A complex matrix of a planned structure, its factors, and solutions with them. Allocates once, when it is made. */
export type SparseComplex = Readonly<{
  /** Values of the slots: to be written before `factor`, overwritten by it. */
  re: Float64Array;
  im: Float64Array;
  /** Runs the plan. False if a pivot vanished. */
  factor: () => boolean;
  /** Solves A·x = b in place: b goes in, x comes out. */
  solve: (re: Float64Array, im: Float64Array) => void;
  /** Solves Aᵀ·x = b in place (transposed, not conjugated). */
  solveTransposed: (re: Float64Array, im: Float64Array) => void;
}>;

/** Elimination as a fixed list of multiply-subtracts: no search, no branch, no allocation. */
export function sparseComplex(plan: SparsePlan): SparseComplex {
  const {
    size,
    pivotRow,
    pivotColumn,
    pivotSlot,
    upperStart,
    upperSlot,
    upperColumn,
    lowerStart,
    lowerSlot,
    lowerRow,
    target,
  } = plan;
  const re = new Float64Array(plan.slots);
  const im = new Float64Array(plan.slots);
  // Reciprocals of the pivots.
  const pivotRe = new Float64Array(size);
  const pivotIm = new Float64Array(size);
  const keepRe = new Float64Array(size);
  const keepIm = new Float64Array(size);

  // Every index below comes from the plan and is in range.
  const factor = (): boolean => {
    let next = 0;
    for (let k = 0; k < size; k++) {
      const pr = re[pivotSlot[k]!]!;
      const pi = im[pivotSlot[k]!]!;
      const squared = pr * pr + pi * pi;
      if (!(squared > 0)) return false;
      const ir = pr / squared;
      const ii = -pi / squared;
      pivotRe[k] = ir;
      pivotIm[k] = ii;
      const uFrom = upperStart[k]!;
      const uTo = upperStart[k + 1]!;
      for (let l = lowerStart[k]!; l < lowerStart[k + 1]!; l++) {
        const slot = lowerSlot[l]!;
        const ar = re[slot]!;
        const ai = im[slot]!;
        // A branch that leads nowhere takes itself out exactly: its rounding would be a conductance where there is none.
        const opposite = ar === -pr && ai === -pi;
        const fr = opposite ? -1 : ar * ir - ai * ii;
        const fi = opposite ? 0 : ar * ii + ai * ir;
        re[slot] = fr;
        im[slot] = fi;
        for (let u = uFrom; u < uTo; u++) {
          const from = upperSlot[u]!;
          const to = target[next++]!;
          const ur = re[from]!;
          const ui = im[from]!;
          re[to] = re[to]! - fr * ur + fi * ui;
          im[to] = im[to]! - fr * ui - fi * ur;
        }
      }
    }
    return true;
  };

  const solve = (bRe: Float64Array, bIm: Float64Array): void => {
    for (let k = 0; k < size; k++) {
      const yr = bRe[pivotRow[k]!]!;
      const yi = bIm[pivotRow[k]!]!;
      keepRe[k] = yr;
      keepIm[k] = yi;
      if (yr === 0 && yi === 0) continue;
      for (let l = lowerStart[k]!; l < lowerStart[k + 1]!; l++) {
        const row = lowerRow[l]!;
        const fr = re[lowerSlot[l]!]!;
        const fi = im[lowerSlot[l]!]!;
        bRe[row] = bRe[row]! - fr * yr + fi * yi;
        bIm[row] = bIm[row]! - fr * yi - fi * yr;
      }
    }
    for (let k = size - 1; k >= 0; k--) {
      let sr = keepRe[k]!;
      let si = keepIm[k]!;
      for (let u = upperStart[k]!; u < upperStart[k + 1]!; u++) {
        const column = upperColumn[u]!;
        const ur = re[upperSlot[u]!]!;
        const ui = im[upperSlot[u]!]!;
        const xr = bRe[column]!;
        const xi = bIm[column]!;
        sr -= ur * xr - ui * xi;
        si -= ur * xi + ui * xr;
      }
      // Columns right of step k are solved already, so that their places in b hold x.
      const column = pivotColumn[k]!;
      bRe[column] = sr * pivotRe[k]! - si * pivotIm[k]!;
      bIm[column] = sr * pivotIm[k]! + si * pivotRe[k]!;
    }
  };

  const solveTransposed = (bRe: Float64Array, bIm: Float64Array): void => {
    for (let k = 0; k < size; k++) {
      const cr = bRe[pivotColumn[k]!]!;
      const ci = bIm[pivotColumn[k]!]!;
      const zr = cr * pivotRe[k]! - ci * pivotIm[k]!;
      const zi = cr * pivotIm[k]! + ci * pivotRe[k]!;
      keepRe[k] = zr;
      keepIm[k] = zi;
      if (zr === 0 && zi === 0) continue;
      for (let u = upperStart[k]!; u < upperStart[k + 1]!; u++) {
        const column = upperColumn[u]!;
        const ur = re[upperSlot[u]!]!;
        const ui = im[upperSlot[u]!]!;
        bRe[column] = bRe[column]! - ur * zr + ui * zi;
        bIm[column] = bIm[column]! - ur * zi - ui * zr;
      }
    }
    for (let k = size - 1; k >= 0; k--) {
      let sr = keepRe[k]!;
      let si = keepIm[k]!;
      for (let l = lowerStart[k]!; l < lowerStart[k + 1]!; l++) {
        const row = lowerRow[l]!;
        const fr = re[lowerSlot[l]!]!;
        const fi = im[lowerSlot[l]!]!;
        sr -= fr * bRe[row]! - fi * bIm[row]!;
        si -= fr * bIm[row]! + fi * bRe[row]!;
      }
      bRe[pivotRow[k]!] = sr;
      bIm[pivotRow[k]!] = si;
    }
  };

  return {re, im, factor, solve, solveTransposed};
}
