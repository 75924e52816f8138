/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the lengths they are made with */
import type {StepModel} from "./step-model.ts";

/** Columns of a row that are written out: what an engine need not loop over takes it half the time. */
const writtenOut = 12;
const lawsWrittenOut = 3;

/**
 * The matrices of a step row by row, each row an array of its own: first the ports, then the memory, then the outputs. `linear` is
 * to be multiplied by memory, inputs and 1, `byLaws`, of memory and outputs alone, by the laws' sums.
 */
export type StepRows = Readonly<{
  linear: readonly Float64Array[];
  byLaws: readonly Float64Array[];
  /** Memory, inputs and 1, to be multiplied by. */
  known: Float64Array;
  /** What the linear part makes of them. */
  found: Float64Array;
}>;

/** How many numbers the rows are multiplied by: memory, inputs, 1, and zeros up to what is written out. */
export function knownLength({states, stages}: StepModel): number {
  return Math.max(writtenOut, states + stages + 1);
}

/** Rows for models of a shape, all 0; `known` holds memory and inputs and is given its 1. */
export function stepRows({states, stages, outputs, ports, columns}: StepModel, known: Float64Array): StepRows {
  const width = known.length;
  const rows = (count: number, width: number) => Array.from({length: count}, () => new Float64Array(width));
  known[states + stages] = 1;
  return {
    linear: rows(ports + states + outputs, width),
    byLaws: rows(states + outputs, Math.max(lawsWrittenOut, columns)),
    known,
    found: new Float64Array(ports + states + outputs),
  };
}

/** Writes a model's coefficients into its rows. */
export function fillRows({linear, byLaws}: StepRows, model: StepModel): void {
  const {states, stages, outputs, ports, columns, D, E, F, A, B, H, C, L, M, O, N} = model;
  const fill = (first: number, count: number, S: Float64Array, U: Float64Array, steady: Float64Array): void => {
    for (let row = 0; row < count; row++) {
      const into = linear[first + row]!;
      for (let k = 0, at = row * states; k < states; k++) into[k] = S[at++]!;
      for (let k = 0, at = row * stages; k < stages; k++) into[states + k] = U[at++]!;
      into[states + stages] = steady[row]!;
    }
  };
  fill(0, ports, D, E, F);
  fill(ports, states, A, B, H);
  fill(ports + states, outputs, L, M, O);
  for (let row = 0; row < states; row++)
    for (let k = 0, at = row * columns; k < columns; k++) byLaws[row]![k] = C[at++]!;
  for (let row = 0; row < outputs; row++)
    for (let k = 0, at = row * columns; k < columns; k++) byLaws[states + row]![k] = N[at++]!;
}

/** found = linear·known */
export function findLinear({linear, known, found}: StepRows): void {
  const a = known[0]!;
  const b = known[1]!;
  const c = known[2]!;
  const d = known[3]!;
  const e = known[4]!;
  const f = known[5]!;
  const g = known[6]!;
  const h = known[7]!;
  const i = known[8]!;
  const j = known[9]!;
  const k = known[10]!;
  const l = known[11]!;
  const {length} = known;
  for (let at = 0; at < linear.length; at++) {
    const row = linear[at]!;
    let sum =
      row[0]! * a +
      row[1]! * b +
      (row[2]! * c + row[3]! * d) +
      (row[4]! * e + row[5]! * f + (row[6]! * g + row[7]! * h));
    sum += row[8]! * i + row[9]! * j + (row[10]! * k + row[11]! * l);
    for (let more = writtenOut; more < length; more++) sum += row[more]! * known[more]!;
    found[at] = sum;
  }
}

/** Adds byLaws·sums to what the linear part makes of memory and outputs, into both; `sums` has at least three numbers. */
export function addLaws(
  {byLaws, found}: StepRows,
  sums: Float64Array,
  state: Float64Array,
  output: Float64Array,
): void {
  const a = sums[0]!;
  const b = sums[1]!;
  const c = sums[2]!;
  const states = state.length;
  const ports = found.length - byLaws.length;
  for (let at = 0; at < byLaws.length; at++) {
    const row = byLaws[at]!;
    let sum = found[ports + at]! + row[0]! * a + row[1]! * b + row[2]! * c;
    for (let more = lawsWrittenOut; more < row.length; more++) sum += row[more]! * sums[more]!;
    if (at < states) state[at] = sum;
    else output[at - states] = sum;
  }
}
