import {pastSteps} from "../guess.ts";
import {coefficientCount, type StepModel} from "../step-model.ts";
import {knownLength} from "../step-rows.ts";
import {tableLength} from "./emit-exponential.ts";

/** Numbers that a law keeps in the memory; which they are, `lawParameters` says. */
export const parametersPerLaw = 9;

/** Most steps in one call. */
export const blockLength = 512;

/** Where everything stands in the memory of a compiled step, in doubles from its start. */
export type Layout = Readonly<
  Record<
    "parameters" | "coefficients" | "state" | "points" | "past" | "input" | "output" | "trace" | "twin" | "end",
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

/** Numbers that the correction remembers: its own memory, the step's last one and three changes of it, gives and outputs. */
export function twinLength({states, outputs, laws}: StepModel): number {
  return 5 * states + laws.length + outputs;
}

/** The layout for a model: the same for all models of its shape. */
export function layoutOf(model: StepModel, corrects: boolean): Layout {
  const {stages, outputs, laws} = model;
  const parameters = tableLength;
  const coefficients = parameters + parametersPerLaw * laws.length;
  const state = coefficients + coefficientCount(model);
  const points = state + knownLength(model);
  const past = points + laws.length;
  const input = past + pastSteps * laws.length;
  const output = input + blockLength * stages;
  const trace = output + blockLength * outputs;
  const twin = trace + (corrects ? blockLength * traceWidth(model) : 0);
  const end = twin + (corrects ? twinLength(model) : 0);
  return {parameters, coefficients, state, points, past, input, output, trace, twin, end, corrects};
}
