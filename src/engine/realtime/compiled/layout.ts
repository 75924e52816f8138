import {pastSteps} from "../guess.ts";
import {coefficientCount, type StepModel} from "../step-model.ts";
import {knownLength} from "../step-rows.ts";
import {tableLength} from "./emit-exponential.ts";

/** Numbers that a law keeps in the memory; which they are, `lawParameters` says. */
export const parametersPerLaw = 9;

/** Room for inputs before those of the first step. */
export const inputsBefore = 4;

/** Most steps in one call. */
export const blockLength = 512;

/** Where everything stands in the memory of a compiled step, in doubles from its start; `bend`, how far a law may stand from its guess. */
export type Layout = Readonly<
  Record<
    | "parameters"
    | "coefficients"
    | "state"
    | "points"
    | "past"
    | "bend"
    | "input"
    | "output"
    | "trace"
    | "twin"
    | "end",
    number
  > & {
    /** Whether there is room for a correction: what every step leaves for it, and what it remembers itself. */
    corrects: boolean;
  }
>;

/** Numbers that each step leaves for the correction: its memory, and the laws' gives. */
export function traceWidth({states, laws}: StepModel): number {
  return states + laws.length;
}

/**
 * What the correction remembers from block to block: `error` and `driven`, the memory's error after and before the last step but one;
 * `last`, the memory now, and what the last three steps changed it by, the latest first; the laws' gives; outputs held back.
 */
export type Twin = Readonly<
  Record<
    "error" | "driven" | "last" | "change" | "changeBefore" | "changeFirst" | "gives" | "held",
    Float64Array<ArrayBuffer>
  >
>;

/** In this order it stands in the memory. */
function twinLengths({states, outputs, laws}: StepModel): readonly (readonly [keyof Twin, number])[] {
  return [
    ["error", states],
    ["driven", states],
    ["last", states],
    ["change", states],
    ["changeBefore", states],
    ["changeFirst", states],
    ["gives", laws.length],
    ["held", outputs],
  ];
}

/** Views of it. */
export function twinOf(memory: Float64Array<ArrayBuffer>, {twin}: Layout, model: StepModel): Twin {
  let from = twin;
  return Object.fromEntries(
    twinLengths(model).map(([name, length]) => [name, memory.subarray(from, (from += length))]),
  ) as Twin;
}

/** The layout for a model: the same for all models of its shape. */
export function layoutOf(model: StepModel, corrects: boolean): Layout {
  const {stages, outputs, laws} = model;
  const parameters = tableLength;
  const coefficients = parameters + parametersPerLaw * laws.length;
  const state = coefficients + coefficientCount(model);
  const points = state + knownLength(model);
  const past = points + laws.length;
  const bend = past + pastSteps * laws.length;
  const input = bend + 1 + inputsBefore;
  const output = input + blockLength * stages;
  const trace = output + blockLength * outputs;
  const twin = trace + (corrects ? blockLength * traceWidth(model) : 0);
  const end = twin + (corrects ? twinLengths(model).reduce((sum, [, length]) => sum + length, 0) : 0);
  return {parameters, coefficients, state, points, past, bend, input, output, trace, twin, end, corrects};
}
