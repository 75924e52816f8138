/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {nonlinearities, type Law, type LinearForm} from "../analysis/nonlinearities.ts";
import type {Stamps, Triplets} from "../analysis/stamps.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import {factorReal, solveReal} from "../solve/real-lu.ts";
import {placeLaws} from "./place-laws.ts";
import {matricesOver, type Method, type StepModel} from "./step-model.ts";

/**
 * Stage equations Σ_j (1/h)·weights_ij·C·X_j + G·X_i + Σ f(X_i) = b_i + (1/h)·fromMemory_i·Σ value·into·m, and what is remembered:
 * m' = toMemory·(from·X_last) − keep·m. The memory is in volts of capacitors and amperes of inductors, so that it stays what it is
 * while their values change.
 */
const rules = {
  // m = v + (h/2)·dv/dt: companion models, Nagel, UCB/ERL M520 (1975) [from memory].
  trapezoidal: {weights: [[2]], fromMemory: [2], toMemory: 2, keep: 1},
  // m = v; weights are the inverse of Radau IIA's matrix [5/12 −1/12; 3/4 1/4], Hairer and Wanner, Solving ODEs II, IV.5 [from memory].
  "Radau IIA": {
    weights: [
      [1.5, 0.5],
      [-4.5, 2.5],
    ],
    fromMemory: [2, -2],
    toMemory: 1,
    keep: 0,
  },
} as const;

/**
 * Reduces the stamps to one step of `1/sampleRateHz` seconds.
 *
 * @param outputs unknowns to read, −1 for ground
 * @throws {CircuitError} if the equations have no single solution
 */
export function stepModel(
  equations: Stamps,
  outputs: readonly number[],
  sampleRateHz: number,
  method: Method,
): StepModel {
  const {size, stores, steady, signal} = equations;
  const {weights, fromMemory, toMemory, keep} = rules[method];
  const stages = weights.length;
  const whole = size * stages;
  const perLaw = nonlinearities(equations);
  const order = new Int32Array(whole);
  const factored = (tangentOf: (law: Law) => number): Float64Array | undefined => {
    const dense = stageMatrix(equations, sampleRateHz, method);
    for (let i = 0; i < stages; i++) {
      for (const {from, into, law} of perLaw) {
        const slope = tangentOf(law);
        if (slope === 0) continue;
        for (const [row, out] of into)
          for (const [column, factor] of from)
            dense[(i * size + row) * whole + i * size + column]! += out * slope * factor;
      }
    }
    return factorReal(whole, dense, order) < 0 ? dense : undefined;
  };
  // A node that only diodes lead to, or an op-amp that only its rails hold, is not determined by the linear part alone.
  const plain = factored(noSlope);
  const dense = plain ?? factored(usualSlope);
  if (dense === undefined) throw new CircuitError("the circuit has no single solution in time");

  const {laws, ports, columns} = placeLaws(perLaw, stages, plain ? noSlope : usualSlope, plain !== undefined);
  const [n, g, r, c] = [stores.length, ports.length, outputs.length, columns.length];
  const sizes = {states: n, stages, outputs: r, ports: g, columns: c};
  const matrices = matricesOver(sizes);
  const {D, E, F, K, A, B, H, C, L, M, O, N} = matrices;

  const x = new Float64Array(whole);
  const b = new Float64Array(whole);
  const last = (stages - 1) * size;
  const reading = reader([
    ...ports.map(({form, stage}) => ({form, offset: stage * size})),
    ...stores.map(({from}) => ({form: from, offset: last})),
    ...outputs.map((unknown) => ({form: unknown < 0 ? [] : [[unknown, 1] as const], offset: last})),
  ]);
  const read = new Float64Array(g + n + r);
  /** Solves for the right side b, writes what it does to ports, memory and outputs into column `at` of `width`, and clears b. */
  const respond = (p: Float64Array, s: Float64Array, y: Float64Array, at: number, width: number): void => {
    solveReal(whole, dense, order, b, x);
    b.fill(0);
    reading(x, read);
    for (let k = 0; k < g; k++) p[k * width + at] = read[k]!;
    for (let k = 0; k < n; k++) s[k * width + at] = toMemory * read[g + k]!;
    for (let k = 0; k < r; k++) y[k * width + at] = read[g + n + k]!;
  };
  for (let k = 0; k < n; k++) {
    const {into, value} = stores[k]!;
    for (let stage = 0; stage < stages; stage++)
      for (const [row, out] of into) b[stage * size + row] = fromMemory[stage]! * sampleRateHz * value * out;
    respond(D, A, L, k, n);
    A[k * n + k]! -= keep;
  }
  for (let stage = 0; stage < stages; stage++) {
    b.set(signal, stage * size);
    respond(E, B, M, stage, stages);
  }
  for (let stage = 0; stage < stages; stage++) b.set(steady, stage * size);
  respond(F, H, O, 0, 1);
  ports.forEach(({offset}, k) => (F[k]! += offset));
  columns.forEach(({form, stage}, k) => {
    for (const [unknown, factor] of form) b[stage * size + unknown] = -factor;
    respond(K, C, N, k, c);
  });
  return {method, sampleRateHz, ...sizes, laws, ...matrices};
}

/** The memory of a solution `x` at which nothing changes, such as the operating point: what each store holds. */
export function memoryAt({stores}: Stamps, x: Float64Array): Float64Array {
  const memory = new Float64Array(stores.length);
  reader(stores.map(({from}) => ({form: from, offset: 0})))(x, memory);
  return memory;
}

/** G and C of all stages in one dense matrix. */
function stageMatrix({size, conductance, storage}: Stamps, sampleRateHz: number, method: Method): Float64Array {
  const {weights} = rules[method];
  const whole = size * weights.length;
  const dense = new Float64Array(whole * whole);
  const add = ({rows, columns, values}: Triplets, factor: number, i: number, j: number): void => {
    for (let k = 0; k < values.length; k++)
      dense[(i * size + rows[k]!) * whole + j * size + columns[k]!]! += factor * values[k]!;
  };
  weights.forEach((row, i) => {
    add(conductance, 1, i, i);
    row.forEach((weight, j) => add(storage, weight * sampleRateHz, i, j));
  });
  return dense;
}

/** Reads linear forms of a solution, each at its offset: laid out flat, as this is done once for every column of a model. */
function reader(forms: readonly Readonly<{form: LinearForm; offset: number}>[]) {
  const starts = new Int32Array(forms.length + 1);
  forms.forEach(({form}, k) => (starts[k + 1] = starts[k]! + form.length));
  const places = new Int32Array(starts[forms.length]!);
  const factors = new Float64Array(places.length);
  let at = 0;
  for (const {form, offset} of forms) {
    for (const [unknown, factor] of form) {
      places[at] = offset + unknown;
      factors[at++] = factor;
    }
  }
  return (x: Float64Array, into: Float64Array): void => {
    for (let k = 0; k < forms.length; k++) {
      let sum = 0;
      for (let i = starts[k]!; i < starts[k + 1]!; i++) sum += factors[i]! * x[places[i]!]!;
      into[k] = sum;
    }
  };
}

const noSlope = () => 0;

/** A slope that each law has somewhere: of a diode in siemens, a diode at some 0.5 µA; of a clamp in volts a volt. */
function usualSlope(law: Law): number {
  if (law.kind === "diode") return 1e-5;
  return law.kind === "clamp" ? law.sign * 1e-3 : 0;
}
