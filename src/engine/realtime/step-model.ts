/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import type {Law} from "../analysis/nonlinearities.ts";

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

/**
 * Sets `into` between two models, `fraction` of the way. What it returns is called from sample to sample: that the shapes match is
 * looked at once for each pair. @throws {RangeError} if they do not
 */
export function blender(into: StepModel): (from: StepModel, to: StepModel, fraction: number) => void {
  let pair: readonly [StepModel, StepModel] | undefined;
  return (from, to, fraction) => {
    if (pair?.[0] !== from || pair[1] !== to) {
      if (!sameShape(from, to) || !sameShape(from, into))
        throw new RangeError("only models of one shape can be blended");
      pair = [from, to];
    }
    const [a, b, c] = [from.coefficients, to.coefficients, into.coefficients];
    for (let k = 0; k < c.length; k++) c[k] = a[k]! + fraction * (b[k]! - a[k]!);
  };
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
