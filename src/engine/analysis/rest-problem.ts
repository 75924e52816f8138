/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {Circuit} from "../circuit/circuit.ts";
import {factorReal, negativeDeterminant, solveReal} from "../solve/real-lu.ts";
import {anchored, anchorsOf, type Anchors} from "./islands.ts";
import {
  evaluate,
  limited,
  lawsAtRest,
  nonlinearities,
  type LawPoint,
  type LinearForm,
  type Nonlinearity,
} from "./nonlinearities.ts";
import {restTies} from "./rest-ties.ts";
import type {Stamps, Triplets} from "./stamps.ts";

/** One implicit Euler step: how long, and where the circuit stood before it. */
type EulerStep = Readonly<{seconds: number; before: Float64Array}>;

/** Most ordinary circuits need one; a node between two blocking diodes comes down by a factor of e a round. */
const polishRounds = 60;

export type RestProblem = ReturnType<typeof restProblem>;

/**
 * The equations G·x + Σ ports = drive of a circuit at rest, and what can be done with them: Newton's method with junction limiting,
 * plain or over one implicit Euler step; a last polish; Kirchhoff's error; what no equation determines; whether x would be left.
 *
 * Where only diodes join some nodes to ground, x and drive count from their anchors, as islands.ts says, and so does all that is
 * given back: `enter` and `leave` go there and back, in place.
 */
export function restProblem(circuit: Circuit, given: Stamps) {
  const ties = restTies(circuit, given);
  const nodes = new Set(given.unknownOf.values());
  const anchors = ties.some(([unknown]) => nodes.has(unknown)) ? restAnchors(circuit, given) : undefined;
  const island = anchors && anchored(given, anchors);
  const {size} = given;
  const {conductance, storage} = island?.equations ?? given;
  const laws = lawsAtRest(given).map((each) =>
    island ? {...each, from: island.form(each.from), into: island.form(each.into)} : each,
  );
  const matrix = new Float64Array(size * size);
  const order = new Int32Array(size);
  const right = new Float64Array(size);
  const next = new Float64Array(size);
  const scale = new Float64Array(size);
  const at = new Float64Array(laws.length);
  const point: LawPoint = {value: 0, slope: 0};

  const along = (form: LinearForm, x: Float64Array): number => {
    let sum = 0;
    for (const [unknown, factor] of form) sum += factor * x[unknown]!;
    return sum;
  };
  const addMatrix = ({rows, columns, values}: Triplets, factor: number): void => {
    for (let k = 0; k < values.length; k++) matrix[rows[k]! * size + columns[k]!]! += factor * values[k]!;
  };
  const addLaw = ({from, into}: Nonlinearity, slope: number): void => {
    for (const [row, weight] of into)
      for (const [column, factor] of from) matrix[row * size + column]! += weight * slope * factor;
  };
  const assemble = (step?: EulerStep): void => {
    matrix.fill(0);
    addMatrix(conductance, 1);
    for (const [unknown, value] of ties) matrix[unknown * size + unknown]! += value;
    if (step === undefined) return;
    addMatrix(storage, 1 / step.seconds);
    for (const node of nodes) matrix[node * size + node]! += 1e-12 / step.seconds;
  };
  /** Left side minus right side at x. */
  const miss = (x: Float64Array, drive: Float64Array, into: Float64Array): void => {
    const {rows, columns, values} = conductance;
    for (let row = 0; row < size; row++) into[row] = -drive[row]!;
    for (let k = 0; k < values.length; k++) into[rows[k]!]! += values[k]! * x[columns[k]!]!;
    for (const {from, offset, into: rowsOf, law} of laws) {
      evaluate(law, along(from, x) + offset, point);
      for (const [row, weight] of rowsOf) into[row]! += weight * point.value;
    }
  };

  /** Newton with junction limiting from x, in place. True when the unknowns and the junctions have stopped moving. */
  const newton = (x: Float64Array, drive: Float64Array, step?: EulerStep): boolean => {
    laws.forEach(({from, offset}, k) => (at[k] = along(from, x) + offset));
    const rounds = laws.length === 0 ? 3 : 120;
    for (let round = 0; round < rounds; round++) {
      assemble(step);
      right.set(drive);
      for (const [unknown, value] of ties) right[unknown]! += value * x[unknown]!;
      if (step !== undefined) {
        const {rows, columns, values} = storage;
        for (let k = 0; k < values.length; k++)
          right[rows[k]!]! += (values[k]! * step.before[columns[k]!]!) / step.seconds;
        for (const node of nodes) right[node]! += (1e-12 * step.before[node]!) / step.seconds;
      }
      laws.forEach((law, k) => {
        evaluate(law.law, at[k]!, point);
        addLaw(law, point.slope);
        const constant = point.value + point.slope * (law.offset - at[k]!);
        for (const [row, weight] of law.into) right[row]! -= weight * constant;
      });
      if (factorReal(size, matrix, order) >= 0) return false;
      solveReal(size, matrix, order, right, next);
      let moved = 0;
      for (let k = 0; k < size; k++) {
        if (!Number.isFinite(next[k]!)) return false;
        moved = Math.max(moved, Math.abs(next[k]! - x[k]!) / (1e-3 + Math.abs(next[k]!)));
      }
      x.set(next);
      laws.forEach((law, k) => {
        const wanted = along(law.from, x) + law.offset;
        const reached = limited(law.law, at[k]!, wanted);
        moved = Math.max(moved, Math.abs(wanted - at[k]!) / (1e-3 + Math.abs(wanted)));
        at[k] = reached;
      });
      if (moved < 1e-9) return true;
      if (step === undefined && balanced(x, drive)) return true;
    }
    return false;
  };

  /** Whether every row holds to eleven digits of its own terms, or to a tenth of a picoampere: good enough to polish. */
  const balanced = (x: Float64Array, drive: Float64Array): boolean => {
    const {rows, columns, values} = conductance;
    for (let row = 0; row < size; row++) {
      right[row] = -drive[row]!;
      scale[row] = Math.abs(drive[row]!);
    }
    for (let k = 0; k < values.length; k++) {
      const term = values[k]! * x[columns[k]!]!;
      right[rows[k]!]! += term;
      scale[rows[k]!]! += Math.abs(term);
    }
    for (const {from, offset, into, law} of laws) {
      evaluate(law, along(from, x) + offset, point);
      for (const [row, weight] of into) {
        right[row]! += weight * point.value;
        scale[row]! += Math.abs(point.value);
      }
    }
    for (let row = 0; row < size; row++) if (!(Math.abs(right[row]!) <= 1e-11 * scale[row]! + 1e-13)) return false;
    return true;
  };

  /** Plain Newton steps on what is left over, as long as they make it smaller. */
  const polish = (x: Float64Array, drive: Float64Array): void => {
    const left = new Float64Array(size);
    const trial = new Float64Array(size);
    let best = residual(x, drive);
    for (let round = 0; round < polishRounds && best > 0; round++) {
      assemble();
      for (const law of laws) {
        evaluate(law.law, along(law.from, x) + law.offset, point);
        addLaw(law, point.slope);
      }
      if (factorReal(size, matrix, order) >= 0) return;
      miss(x, drive, left);
      solveReal(size, matrix, order, left, next);
      for (let k = 0; k < size; k++) trial[k] = x[k]! - next[k]!;
      const now = residual(trial, drive);
      if (!(now < best)) return;
      best = now;
      x.set(trial);
    }
  };

  /** Greatest error of Kirchhoff's current law at a node, in amperes. */
  const residual = (x: Float64Array, drive: Float64Array): number => {
    const left = new Float64Array(size);
    miss(x, drive, left);
    let largest = 0;
    for (const node of nodes) largest = Math.max(largest, Math.abs(left[node]!));
    return Number.isFinite(largest) ? largest : Infinity;
  };

  const worstRow = (x: Float64Array, drive: Float64Array): number => {
    const left = new Float64Array(size);
    miss(x, drive, left);
    return left.reduce((worst, value, row) => (Math.abs(value) > Math.abs(left[worst]!) ? row : worst), 0);
  };

  /** An unknown that no equation determines, or −1. */
  const stuckUnknown = (x: Float64Array): number => {
    assemble();
    for (const law of laws) {
      evaluate(law.law, along(law.from, x) + law.offset, point);
      addLaw(law, point.slope);
    }
    return factorReal(size, matrix, order);
  };

  /**
   * Whether the circuit would leave x by itself: det(G + s·C) of the circuit linearised there changes its sign between s = 0 and
   * s beyond every pole just if it has an odd number of poles at positive real s.
   */
  const runsAway = (x: Float64Array): boolean => {
    const [still, fast] = [undefined, {seconds: 1e-15, before: x}].map((step) => {
      assemble(step);
      for (const law of laws) {
        evaluate(law.law, along(law.from, x) + law.offset, point);
        addLaw(law, point.slope);
      }
      return factorReal(size, matrix, order) < 0 ? negativeDeterminant(size, matrix, order) : undefined;
    });
    return still !== undefined && fast !== undefined && still !== fast;
  };

  const mayLatch = given.ports.some(({kind}) => kind === "op-amp");
  const enter = (x: Float64Array, drive: Float64Array): void => {
    island?.count(x);
    island?.fold(drive);
  };
  const leave = (x: Float64Array): void => island?.unfold(x);
  return {
    newton,
    polish,
    residual,
    worstRow,
    stuckUnknown,
    runsAway,
    mayLatch,
    islands: anchors !== undefined,
    enter,
    leave,
  };
}

/** Diodes weighed by their slopes at 0 V; capacitors hold nothing at rest. */
function restAnchors(circuit: Circuit, given: Stamps): Anchors | undefined {
  const point: LawPoint = {value: 0, slope: 0};
  const slopes = nonlinearities(given).flatMap(({law, from}) => {
    if (law.kind !== "diode") return [];
    evaluate(law, 0, point);
    return [{a: from[0]?.[0] ?? -1, b: from[1]?.[0] ?? -1, siemens: point.slope}];
  });
  return anchorsOf(circuit, given, slopes, 0);
}
