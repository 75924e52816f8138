import {CircuitError} from "../circuit/circuit-error.ts";
import {factorComplex, solveComplex} from "../solve/complex-lu.ts";
import type {ComplexArray} from "./complex-array.ts";
import type {Stamps, Triplets, Unknown} from "./stamps.ts";

/**
 * One unknown of (G + jωC)·x = `drive` at each frequency.
 *
 * @param unknown index of the wanted unknown, or −1 for ground, which is 0 everywhere
 * @returns real and imaginary parts, as many as frequencies
 * @throws {CircuitError} if the equations have no single solution at some frequency
 */
export function solveAtFrequencies(
  {size, conductance, storage}: Stamps,
  drive: Float64Array,
  unknown: Unknown,
  frequenciesHz: Float64Array,
): ComplexArray {
  const re = new Float64Array(frequenciesHz.length);
  const im = new Float64Array(frequenciesHz.length);
  if (unknown < 0) return {re, im};
  // Sized once; the loop over frequencies allocates nothing.
  const matrixRe = new Float64Array(size * size);
  const matrixIm = new Float64Array(size * size);
  const order = new Int32Array(size);
  const zero = new Float64Array(size);
  const xRe = new Float64Array(size);
  const xIm = new Float64Array(size);
  for (let k = 0; k < frequenciesHz.length; k++) {
    const frequencyHz = frequenciesHz[k] ?? Number.NaN;
    if (!(frequencyHz >= 0 && frequencyHz < Infinity))
      throw new RangeError(`frequencies must be finite and not negative, got ${frequencyHz} Hz`);
    matrixRe.fill(0);
    matrixIm.fill(0);
    addTo(matrixRe, size, conductance, 1);
    addTo(matrixIm, size, storage, 2 * Math.PI * frequencyHz);
    if (!factorComplex(size, matrixRe, matrixIm, order)) {
      throw new CircuitError(
        `the circuit has no single solution at ${frequencyHz} Hz; look for an op-amp without feedback`,
      );
    }
    solveComplex(size, matrixRe, matrixIm, order, drive, zero, xRe, xIm);
    re[k] = xRe[unknown] ?? 0;
    im[k] = xIm[unknown] ?? 0;
  }
  return {re, im};
}

function addTo(matrix: Float64Array, size: number, {rows, columns, values}: Triplets, factor: number): void {
  for (let k = 0; k < values.length; k++) {
    matrix[rows[k]! * size + columns[k]!]! += factor * values[k]!; // in range: triplets lie inside the matrix
  }
}
