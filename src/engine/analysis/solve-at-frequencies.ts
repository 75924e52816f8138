/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {CircuitError} from "../circuit/circuit-error.ts";
import {factorComplex, solveComplex, solveComplexTransposed} from "../solve/complex-lu.ts";
import {sparseComplex} from "../solve/sparse-complex.ts";
import {sparsePlan, type SparsePlan} from "../solve/sparse-plan.ts";
import type {ComplexArray} from "./complex-array.ts";
import {anchored} from "./islands.ts";
import type {Stamps, Unknown} from "./stamps.ts";

/** Equations (G + jωC)·x = b ready to be solved at one frequency after another. */
export type FrequencySolver = Readonly<{
  /** Sets the frequency in hertz. @throws {RangeError} if it is negative or not finite */
  factor: (frequencyHz: number) => void;
  /** Solution at the frequency set. The arrays are reused: copy what is to be kept. `bIm` is 0 by default. */
  solve: (bRe: Float64Array, bIm?: Float64Array) => Solution;
  /** Solution of the transposed equations: one solve tells how every row's drive reaches one unknown. */
  solveTransposed: (bRe: Float64Array, bIm?: Float64Array) => Solution;
  /** Multiply-subtracts of the planned elimination, 0 if there is no plan: what one frequency costs. */
  operations: number;
  /** One unknown (−1: ground, 0 everywhere) at each frequency, driven by `drive`. */
  response: (drive: Float64Array, unknown: Unknown, frequenciesHz: Float64Array) => ComplexArray;
}>;

type Solution = Readonly<{xRe: Float64Array; xIm: Float64Array}>;

/** One unknown of (G + jωC)·x = `drive` at each frequency. @throws {CircuitError} if there is no single solution */
export function solveAtFrequencies(
  equations: Stamps,
  drive: Float64Array,
  unknown: Unknown,
  frequenciesHz: Float64Array,
): ComplexArray {
  return frequencySolver(equations).response(drive, unknown, frequenciesHz);
}

/** Largest miss of a row, relative to the terms that make it up, that the planned elimination may leave. */
const tolerance = 1e-12;

/** A sweep puts every so many solutions back into the equations, and all of them once one has missed. */
const checkEvery = 8;

/**
 * A solver for equations without ports.
 *
 * The elimination follows a plan made once for the structure; solutions are put back into the equations (one at a time all of them, in
 * a sweep each eighth and, once one has missed, all from the last good one on), and where one misses, a dense elimination with pivoting takes over for that frequency.
 */
export function frequencySolver(given: Stamps): FrequencySolver {
  const island = given.anchors && anchored(given, given.anchors);
  const equations = island?.equations ?? given;
  const {size, conductance: G, storage: C} = equations;
  const plan = planFor(equations);
  const sparse = plan && sparseComplex(plan);
  const slots = plan?.slots ?? 0;
  const real = new Float64Array(slots);
  const perRadian = new Float64Array(slots);
  if (plan !== undefined) {
    // Slots come from the plan and are in range.
    G.values.forEach((value, k) => (real[plan.slotOf[k]!]! += value));
    C.values.forEach((value, k) => (perRadian[plan.slotOf[G.values.length + k]!]! += value));
  }
  const filled = plan === undefined ? 0 : Math.max(-1, ...plan.slotOf) + 1;
  const xRe = new Float64Array(size);
  const xIm = new Float64Array(size);
  const zero = new Float64Array(size);
  const missRe = new Float64Array(size);
  const missIm = new Float64Array(size);
  const scale = new Float64Array(size);
  const solution = {xRe, xIm};
  let radians = 0;
  let planned = false;
  let dense: ReturnType<typeof denseAt> | undefined;

  const factor = (frequencyHz: number): void => {
    if (!(frequencyHz >= 0 && frequencyHz < Infinity)) {
      throw new RangeError(`frequencies must be finite and not negative, got ${frequencyHz} Hz`);
    }
    radians = 2 * Math.PI * frequencyHz;
    dense = undefined;
    planned = false;
    if (sparse === undefined) return;
    // A loop, for a few dozen numbers are copied faster than a call to set() begins.
    for (let k = 0; k < slots; k++) {
      sparse.re[k] = real[k]!;
      sparse.im[k] = radians * perRadian[k]!;
    }
    planned = sparse.factor();
  };

  /** Whether x solves the equations, each row to rounding error of its own terms. */
  const holds = (bRe: Float64Array, bIm: Float64Array, transposed: boolean): boolean => {
    if (plan === undefined) return false;
    const {slotRow, slotColumn} = plan;
    for (let k = 0; k < size; k++) {
      missRe[k] = -bRe[k]!;
      missIm[k] = -bIm[k]!;
      scale[k] = Math.abs(bRe[k]!) + Math.abs(bIm[k]!);
    }
    for (let k = 0; k < filled; k++) {
      const row = transposed ? slotColumn[k]! : slotRow[k]!;
      const column = transposed ? slotRow[k]! : slotColumn[k]!;
      const g = real[k]!;
      const c = radians * perRadian[k]!;
      const re = xRe[column]!;
      const im = xIm[column]!;
      missRe[row]! += g * re - c * im;
      missIm[row]! += g * im + c * re;
      scale[row]! += (Math.abs(g) + Math.abs(c)) * (Math.abs(re) + Math.abs(im));
    }
    for (let k = 0; k < size; k++) {
      if (!(Math.abs(missRe[k]!) + Math.abs(missIm[k]!) <= tolerance * scale[k]!)) return false;
    }
    return true;
  };

  const foldedRe = new Float64Array(island ? size : 0);
  const foldedIm = new Float64Array(island ? size : 0);
  const solveEither = (bRe: Float64Array, bIm: Float64Array, transposed: boolean, checked = true): Solution => {
    if (!island) return solveFolded(bRe, bIm, transposed, checked);
    foldedRe.set(bRe);
    foldedIm.set(bIm);
    for (const each of [foldedRe, foldedIm]) island.fold(each);
    solveFolded(foldedRe, foldedIm, transposed, checked);
    for (const each of [xRe, xIm]) island.unfold(each);
    return solution;
  };
  const solveFolded = (bRe: Float64Array, bIm: Float64Array, transposed: boolean, checked: boolean): Solution => {
    if (planned && sparse !== undefined) {
      for (let k = 0; k < size; k++) {
        xRe[k] = bRe[k]!;
        xIm[k] = bIm[k]!;
      }
      if (transposed) sparse.solveTransposed(xRe, xIm);
      else sparse.solve(xRe, xIm);
      if (!checked || holds(bRe, bIm, transposed)) return solution;
    }
    dense ??= denseAt(equations, radians);
    const solveDense = transposed ? solveComplexTransposed : solveComplex;
    solveDense(size, dense.re, dense.im, dense.order, bRe, bIm, xRe, xIm);
    return solution;
  };
  const solve = (bRe: Float64Array, bIm: Float64Array = zero) => solveEither(bRe, bIm, false);
  const solveTransposed = (bRe: Float64Array, bIm: Float64Array = zero) => solveEither(bRe, bIm, true);

  const response = (drive: Float64Array, unknown: Unknown, frequenciesHz: Float64Array): ComplexArray => {
    const re = new Float64Array(frequenciesHz.length);
    const im = new Float64Array(frequenciesHz.length);
    if (unknown < 0) return {re, im};
    let suspicious = false;
    for (let k = 0; k < frequenciesHz.length; k++) {
      factor(frequenciesHz[k]!);
      // Neighbours fail together: a plan goes bad as reactances outgrow resistances, not at one frequency.
      solveEither(drive, zero, false, k % checkEvery === 0 || k === frequenciesHz.length - 1 || suspicious);
      if (!suspicious && dense !== undefined) {
        suspicious = true;
        k = Math.max(0, k - checkEvery + 1);
        factor(frequenciesHz[k]!);
        solveEither(drive, zero, false);
      }
      re[k] = xRe[unknown]!;
      im[k] = xIm[unknown]!;
    }
    return {re, im};
  };
  return {factor, solve, solveTransposed, response, operations: plan?.target.length ?? 0};
}

function denseAt({size, conductance, storage}: Stamps, radians: number) {
  const re = new Float64Array(size * size);
  const im = new Float64Array(size * size);
  const order = new Int32Array(size);
  conductance.values.forEach((value, k) => (re[conductance.rows[k]! * size + conductance.columns[k]!]! += value));
  storage.values.forEach((value, k) => (im[storage.rows[k]! * size + storage.columns[k]!]! += radians * value));
  if (!factorComplex(size, re, im, order)) {
    const frequencyHz = radians / (2 * Math.PI);
    throw new CircuitError(
      `the circuit has no single solution at ${frequencyHz} Hz; look for an op-amp without feedback`,
    );
  }
  return {re, im, order};
}

// Plans of the structures met last, by structure: a slider moves values, not structure.
const plans = new Map<string, SparsePlan>();
const plansKept = 64;

function planFor({size, conductance, storage}: Stamps): SparsePlan | undefined {
  const key = `${size}|${conductance.rows.join()}|${conductance.columns.join()}|${storage.rows.join()}|${storage.columns.join()}`;
  const known = plans.get(key);
  if (known !== undefined) return known;
  const rows = Int32Array.from([...conductance.rows, ...storage.rows]);
  const columns = Int32Array.from([...conductance.columns, ...storage.columns]);
  const re = Float64Array.from([...conductance.values, ...storage.values.map(() => 0)]);
  // Pivots are chosen at 1 kHz, in the middle of what one hears.
  const im = Float64Array.from([
    ...conductance.values.map(() => 0),
    ...storage.values.map((value) => 2e3 * Math.PI * value),
  ]);
  const plan = sparsePlan(size, rows, columns, re, im);
  if (plan === undefined) return undefined;
  if (plans.size >= plansKept) plans.delete(plans.keys().next().value ?? key);
  plans.set(key, plan);
  return plan;
}
