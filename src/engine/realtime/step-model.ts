/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {nonlinearities, type Law, type LinearForm, type Nonlinearity} from "../analysis/nonlinearities.ts";
import type {Stamps, Triplets} from "../analysis/stamps.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import {factorReal, solveReal} from "../solve/real-lu.ts";

/** How a step is made: the trapezoidal rule for live sound, two-stage Radau IIA for curves and figures. */
export type Method = "trapezoidal" | "Radau IIA";

/**
 * A law at its place: it is read at sign·p − drop·φ of a port p, and its value φ counts `weight` (1 or −1) times in a column.
 * Laws that read the same voltage, or feed the same row, share a port or a column: five laws of an op-amp's rails and its two
 * diodes have four ports and two columns, and two is what Newton's method then has to solve.
 */
export type PlacedLaw = Readonly<{
  law: Law;
  port: number;
  sign: 1 | -1;
  column: number;
  weight: 1 | -1;
  /** Volts per ampere that a diode's series resistance takes before its junction. */
  drop: number;
  /** What the linear part already takes of the law, a slope: φ = f(u) − tangent·(u − shift). 0 in most circuits. */
  tangent: number;
  shift: number;
}>;

/**
 * A circuit reduced to its memory s, its ports p and the outputs y asked for, with ψ the laws' values summed by columns:
 *
 *     p = D·s + E·u + F + K·ψ,   s' = A·s + B·u + H + C·ψ,   y = L·s + M·u + O + N·ψ
 *
 * All matrices are row-major views into `coefficients`, so that two models of one shape blend number by number. u has one
 * entry a stage: the input at the end of the step, for Radau IIA first the one a third of the way.
 */
export type StepModel = Readonly<{
  method: Method;
  sampleRateHz: number;
  states: number;
  stages: number;
  outputs: number;
  ports: number;
  columns: number;
  /** Stage by stage. */
  laws: readonly PlacedLaw[];
}> &
  Matrices;

/** The matrices of a step, views into `coefficients` in this order. */
export type Matrices = Readonly<Record<MatrixName | "coefficients", Float64Array>>;
export type MatrixName = (typeof matrixNames)[number];

const matrixNames = ["D", "E", "F", "K", "A", "B", "H", "C", "L", "M", "O", "N"] as const;

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
  const {size, conductance, storage, stores, steady, signal} = equations;
  const {weights, fromMemory, toMemory, keep} = rules[method];
  const stages = weights.length;
  const whole = size * stages;
  const perLaw = nonlinearities(equations);
  const order = new Int32Array(whole);
  const factored = (tangent: (law: Law) => number): Float64Array | undefined => {
    const dense = new Float64Array(whole * whole);
    const add = ({rows, columns, values}: Triplets, factor: number, i: number, j: number): void => {
      for (let k = 0; k < values.length; k++)
        dense[(i * size + rows[k]!) * whole + j * size + columns[k]!]! += factor * values[k]!;
    };
    weights.forEach((row, i) => {
      add(conductance, 1, i, i);
      row.forEach((weight, j) => add(storage, weight * sampleRateHz, i, j));
      for (const {from, into, law} of perLaw) {
        const slope = tangent(law);
        for (const [row, out] of into)
          for (const [column, factor] of from)
            dense[(i * size + row) * whole + i * size + column]! += out * slope * factor;
      }
    });
    return factorReal(whole, dense, order) < 0 ? dense : undefined;
  };
  // A node that only diodes lead to, or an op-amp that only its rails hold, is not determined by the linear part alone.
  const plain = factored(() => 0);
  const tangentOf = plain ? () => 0 : usualSlope;
  const dense = plain ?? factored(usualSlope);
  if (dense === undefined) throw new CircuitError("the circuit has no single solution in time");

  const {laws, from, into} = placed(perLaw, stages, tangentOf, plain !== undefined);
  const sizes = {states: stores.length, stages, outputs: outputs.length, ports: from.length, columns: into.length};
  const {states: n, stages: q, columns: c} = sizes;
  const matrices = matricesOver(sizes);
  const {D, E, F, K, A, B, H, C, L, M, O, N} = matrices;

  const x = new Float64Array(whole);
  const b = new Float64Array(whole);
  const last = (stages - 1) * size;
  /** Solves for the right side b, writes what it does to ports, memory and outputs into column `at` of `width`, and clears b. */
  const respond = (p: Float64Array, s: Float64Array, y: Float64Array, at: number, width: number) => {
    solveReal(whole, dense, order, b, x);
    b.fill(0);
    from.forEach(({form, stage}, k) => (p[k * width + at] = dot(form, x, stage * size)));
    stores.forEach((each, k) => (s[k * width + at] = toMemory * dot(each.from, x, last)));
    outputs.forEach((unknown, k) => (y[k * width + at] = unknown < 0 ? 0 : x[last + unknown]!));
  };
  stores.forEach(({into, value}, k) => {
    fromMemory.forEach((factor, stage) => {
      for (const [row, out] of into) b[stage * size + row] = factor * sampleRateHz * value * out;
    });
    respond(D, A, L, k, n);
    A[k * n + k]! -= keep;
  });
  for (let stage = 0; stage < stages; stage++) {
    b.set(signal, stage * size);
    respond(E, B, M, stage, q);
  }
  for (let stage = 0; stage < stages; stage++) b.set(steady, stage * size);
  respond(F, H, O, 0, 1);
  from.forEach(({offset}, k) => (F[k]! += offset));
  into.forEach(({form, stage}, k) => {
    for (const [unknown, factor] of form) b[stage * size + unknown] = -factor;
    respond(K, C, N, k, c);
  });
  return {method, sampleRateHz, ...sizes, laws, ...matrices};
}

/** The memory of a solution `x` at which nothing changes, such as the operating point: what each store holds. */
export function memoryAt({stores}: Stamps, x: Float64Array): Float64Array {
  return Float64Array.from(stores, ({from}) => dot(from, x, 0));
}

type Place = Readonly<{form: LinearForm; offset: number; stage: number}>;

/** Every law with its port and column; those that differ in nothing but their sign are one. */
function placed(
  perLaw: readonly Nonlinearity[],
  stages: number,
  tangentOf: (law: Law) => number,
  plain: boolean,
): Readonly<{laws: PlacedLaw[]; from: Place[]; into: Place[]}> {
  const from: Place[] = [];
  const into: Place[] = [];
  const find = (places: Place[], place: Place): {at: number; sign: 1 | -1} => {
    for (const sign of [1, -1] as const) {
      const at = places.findIndex((other) => sameUpTo(sign, place, other));
      if (at >= 0) return {at, sign};
    }
    return {at: places.push(place) - 1, sign: 1};
  };
  const laws: PlacedLaw[] = [];
  for (let stage = 0; stage < stages; stage++) {
    for (const each of perLaw) {
      const port = find(from, {form: each.from, offset: each.offset, stage});
      const column = find(into, {form: each.into, offset: 0, stage});
      const {law, drop} = junctionOf(each.law, plain);
      const place = {port: port.at, sign: port.sign, column: column.at, weight: column.sign};
      laws.push({law, ...place, drop, tangent: tangentOf(law), shift: each.offset});
    }
  }
  return {laws, from, into};
}

function sameUpTo(sign: 1 | -1, a: Place, b: Place): boolean {
  return (
    a.stage === b.stage &&
    a.offset === sign * b.offset &&
    a.form.length === b.form.length &&
    a.form.every(([unknown, factor]) => b.form.some(([other, by]) => unknown === other && factor === sign * by))
  );
}

/** A diode's series resistance is linear: taken out of the law it leaves the junction, a plain exponential. */
function junctionOf(law: Law, plain: boolean): Readonly<{law: Law; drop: number}> {
  if (law.kind !== "diode" || law.model.seriesOhms === 0 || !plain) return {law, drop: 0};
  return {law: {...law, model: {...law.model, seriesOhms: 0}}, drop: law.inSeries * law.model.seriesOhms};
}

/** A slope that each law has somewhere: of a diode in siemens, a diode at some 0.5 µA; of a clamp in volts a volt. */
function usualSlope(law: Law): number {
  if (law.kind === "diode") return 1e-5;
  return law.kind === "clamp" ? law.sign * 1e-3 : 0;
}

export type Sizes = Readonly<Pick<StepModel, "states" | "stages" | "outputs" | "ports" | "columns">>;

/** Where each matrix begins among the coefficients of a model of these sizes. */
export function matrixOffsets(sizes: Sizes): Readonly<Record<MatrixName, number>> {
  let from = 0;
  const starts = lengthsOf(sizes).map((length) => (from += length) - length);
  return Object.fromEntries(matrixNames.map((name, k) => [name, starts[k]])) as Record<MatrixName, number>;
}

/** How many coefficients a model of these sizes has. */
export function coefficientCount(sizes: Sizes): number {
  return lengthsOf(sizes).reduce((total, length) => total + length, 0);
}

/** Matrices laid over `coefficients`, or over new ones, all 0. */
export function matricesOver(sizes: Sizes, coefficients = new Float64Array(coefficientCount(sizes))): Matrices {
  let from = 0;
  const views = lengthsOf(sizes).map((length) => coefficients.subarray(from, (from += length)));
  return {...(Object.fromEntries(matrixNames.map((name, k) => [name, views[k]])) as Matrices), coefficients};
}

/** Lengths of the matrices in the order of `matrixNames`. */
function lengthsOf({states: n, stages: q, outputs: r, ports: g, columns: c}: Sizes): number[] {
  return [g * n, g * q, g, g * c, n * n, n * q, n, n * c, r * n, r * q, r, r * c];
}

function dot(form: LinearForm, x: Float64Array, offset: number): number {
  let sum = 0;
  for (const [unknown, factor] of form) sum += factor * x[offset + unknown]!;
  return sum;
}

/**
 * Writes (1 − fraction)·from + fraction·to into `into`: coefficients between two settings of the same circuit.
 *
 * @throws {RangeError} if the three are not of one shape
 */
export function blendModels(from: StepModel, to: StepModel, fraction: number, into: StepModel): void {
  if (!sameShape(from, to) || !sameShape(from, into)) throw new RangeError("only models of one shape can be blended");
  const [a, b, c] = [from.coefficients, to.coefficients, into.coefficients];
  for (let k = 0; k < c.length; k++) c[k] = a[k]! + fraction * (b[k]! - a[k]!);
}

/** Whether memory, laws and outputs of two models match, so that one can carry on from the other. */
export function sameShape(a: StepModel, b: StepModel): boolean {
  return (
    a.method === b.method &&
    a.sampleRateHz === b.sampleRateHz &&
    a.states === b.states &&
    a.outputs === b.outputs &&
    a.laws.length === b.laws.length &&
    a.laws.every((law, k) => sameShapeOfLaw(law, b.laws[k]!))
  );
}

function sameShapeOfLaw(a: PlacedLaw, b: PlacedLaw): boolean {
  return (
    a.law.kind === b.law.kind &&
    a.port === b.port &&
    a.sign === b.sign &&
    a.column === b.column &&
    a.weight === b.weight &&
    a.tangent === b.tangent
  );
}
