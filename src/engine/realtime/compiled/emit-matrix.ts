import {matrixOffsets, type MatrixName, type StepModel} from "../step-model.ts";
import type {Layout} from "./layout.ts";
import {get, i32, load, mul, type Code, type Local} from "./wasm-code.ts";

/** Bytes from the start of the memory to a place in it. */
export const bytes = (place: number): number => 8 * place;

/** Code that reads a model's matrices where the layout has them. */
export type MatrixCode = Readonly<{
  /** The number at `at` of a matrix, row-major. */
  entry: (name: MatrixName, at: number) => Code;
  /** The terms of row `row` of a matrix times `vector`. */
  rowTimes: (name: MatrixName, row: number, vector: readonly Local[]) => Code[];
}>;

export function matrixCode(model: StepModel, layout: Layout): MatrixCode {
  const offsets = matrixOffsets(model);
  const entry = (name: MatrixName, at: number): Code => load(i32(0), bytes(layout.coefficients + offsets[name] + at));
  return {
    entry,
    rowTimes: (name, row, vector) => vector.map((each, k) => mul(entry(name, row * vector.length + k), get(each))),
  };
}
