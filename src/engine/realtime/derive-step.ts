/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {anchored} from "../analysis/islands.ts";
import {nonlinearities, type Law, type LinearForm, type Nonlinearity} from "../analysis/nonlinearities.ts";
import type {Stamps, Triplets} from "../analysis/stamps.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import {factorReal, solveRealColumnsTwice} from "../solve/real-lu.ts";
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
 * A node that only diodes lead to, or an op-amp that only its rails hold, is not determined by the linear part alone, and next to a
 * node that it hardly holds the ohms of its neighbours lose their digits: there the linear part takes over a slope of the laws.
 *
 * @param outputs unknowns to read, −1 for ground
 * @throws {CircuitError} if the equations have no single solution
 */
export function stepModel(given: Stamps, outputs: readonly number[], sampleRateHz: number, method: Method): StepModel {
  const {equations, perLaw, reads} = fromAnchors(given, outputs);
  const plain = reduced(equations, reads, sampleRateHz, method, perLaw, new Float64Array(perLaw.length));
  const loose = plain && looselyHeld(plain, perLaw);
  if (loose && !loose.includes(true)) return plain;
  const tangents = Float64Array.from(perLaw, ({law}, k) => {
    const restSlope = given.restSlopes?.[k] ?? 0;
    const steady = law.kind === "diode" && restSlope > conducting;
    return loose?.[k] === false && !steady ? 0 : usualSlope(law, restSlope);
  });
  const held = reduced(equations, reads, sampleRateHz, method, perLaw, tangents);
  if (held === undefined) throw new CircuitError("the circuit has no single solution in time");
  return held;
}

/**
 * Equations, laws and outputs in unknowns that count from their anchors, if there are any: what little holds a node that only
 * capacitors join to the rest would lose its digits beside the resistances of its neighbours, and its charge creep away.
 */
function fromAnchors(given: Stamps, outputs: readonly number[]) {
  const laws = nonlinearities(given);
  const forms = outputs.map((unknown): LinearForm => (unknown < 0 ? [] : [[unknown, 1]]));
  if (!given.anchors) return {equations: given, perLaw: laws, reads: forms};
  const {equations, form, fold} = anchored(given, given.anchors);
  const [steady, signal] = [Float64Array.from(given.steady), Float64Array.from(given.signal)];
  for (const drive of [steady, signal]) fold(drive);
  const stores = given.stores.map((each) => ({...each, from: form(each.from), into: form(each.into)}));
  return {
    equations: {...equations, stores, steady, signal},
    perLaw: laws.map((each) => ({...each, from: form(each.from), into: form(each.into)})),
    reads: forms.map(form),
  };
}

/** The model with `tangents`, a slope for each law, in its linear part; undefined if that has no single solution. */
function reduced(
  equations: Stamps,
  outputs: readonly LinearForm[],
  sampleRateHz: number,
  method: Method,
  perLaw: readonly Nonlinearity[],
  tangents: Float64Array,
): StepModel | undefined {
  const {size, stores, steady, signal} = equations;
  const {weights, fromMemory, toMemory, keep} = rules[method];
  const stages = weights.length;
  const whole = size * stages;
  const order = new Int32Array(whole);
  const dense = stageMatrix(equations, sampleRateHz, method);
  perLaw.forEach(({from, into}, k) => {
    if (tangents[k] === 0) return;
    for (let i = 0; i < stages; i++)
      for (const [row, out] of into)
        for (const [column, factor] of from)
          dense[(i * size + row) * whole + i * size + column]! += out * tangents[k]! * factor;
  });
  const factors = dense.slice();
  if (factorReal(whole, factors, order) >= 0) return undefined;

  const {laws, ports, columns} = placeLaws(perLaw, stages, tangents);
  const [n, g, r, c] = [stores.length, ports.length, outputs.length, columns.length];
  const sizes = {states: n, stages, outputs: r, ports: g, columns: c};
  const matrices = matricesOver(sizes);
  const {D, E, F, K, A, B, H, C, L, M, O, N} = matrices;

  // All right sides side by side, one a column: memory, inputs, what is steady, columns of the laws.
  const width = n + stages + 1 + c;
  const b = new Float64Array(whole * width);
  const put = (form: LinearForm, stage: number, at: number, times: number): void => {
    for (const [unknown, factor] of form) b[(stage * size + unknown) * width + at]! += times * factor;
  };
  for (let stage = 0; stage < stages; stage++) {
    stores.forEach(({into, value}, k) => put(into, stage, k, fromMemory[stage]! * sampleRateHz * value));
    for (let row = 0; row < size; row++) {
      const at = (stage * size + row) * width + n;
      b[at + stage] = signal[row]!;
      b[at + stages] = steady[row]!;
    }
  }
  columns.forEach(({form, stage}, k) => put(form, stage, n + stages + 1 + k, -1));
  const x = new Float64Array(whole * width);
  solveRealColumnsTwice(whole, dense, factors, order, b, x, width);

  const response = new Float64Array(width);
  /** Reads a form of the unknowns of a stage from every column, and writes what it finds into row `row` of four matrices. */
  const read = (
    form: LinearForm,
    stage: number,
    times: number,
    row: number,
    ofMemory: Float64Array,
    ofInput: Float64Array,
    ofSteady: Float64Array,
    ofLaws: Float64Array,
  ): void => {
    response.fill(0);
    for (const [unknown, factor] of form) {
      for (let k = 0, at = (stage * size + unknown) * width; k < width; k++) response[k]! += times * factor * x[at++]!;
    }
    let at = 0;
    for (let k = 0; k < n; k++) ofMemory[row * n + k] = response[at++]!;
    for (let k = 0; k < stages; k++) ofInput[row * stages + k] = response[at++]!;
    ofSteady[row] = response[at++]!;
    for (let k = 0; k < c; k++) ofLaws[row * c + k] = response[at++]!;
  };
  ports.forEach(({form, stage, offset}, k) => {
    read(form, stage, 1, k, D, E, F, K);
    F[k]! += offset;
  });
  const last = stages - 1;
  stores.forEach(({from}, k) => {
    read(from, last, toMemory, k, A, B, H, C);
    A[k * n + k]! -= keep;
  });
  outputs.forEach((form, k) => read(form, last, 1, k, L, M, O, N));
  return {method, sampleRateHz, ...sizes, laws, ...matrices};
}

/** The memory of a solution `x` at which nothing changes, such as the operating point: what each store holds. */
export function memoryAt({stores}: Stamps, x: Float64Array): Float64Array {
  return Float64Array.from(stores, ({from}) => from.reduce((sum, [unknown, factor]) => sum + factor * x[unknown]!, 0));
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

/** Volts that an ampere may make at most: the last digit of 20 A times that is 1e-8 V, less than Newton's last step. */
const mostOhms = 2e6;

/** Whether a diode's current, law by law, meets more than that somewhere. */
function looselyHeld({K, ports, columns, laws}: StepModel, perLaw: readonly Nonlinearity[]): boolean[] {
  return perLaw.map(({law}, k) => {
    const {column} = laws[k]!;
    for (let port = 0; port < ports; port++)
      if (Math.abs(K[port * columns + column]!) > mostOhms) return law.kind === "diode";
    return false;
  });
}

/** A diode with a steeper slope at rest conducts there. */
const conducting = 1e-5;

/**
 * A slope that each law has somewhere: of a diode in siemens, one at some 50 µA where it conducts at rest; else as little as holds its
 * node, for what a blocking diode does not take is as much rounding. Of a clamp in volts a volt.
 */
function usualSlope(law: Law, restSlope: number): number {
  if (law.kind === "diode") return restSlope > conducting ? 1e-3 : 1 / mostOhms;
  return law.kind === "clamp" ? law.sign * 1e-3 : 0;
}
