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
  Record<"parameters" | "coefficients" | "state" | "points" | "past" | "input" | "output" | "end", number>
>;

/** The layout for a model: the same for all models of its shape. */
export function layoutOf(model: StepModel): Layout {
  const {stages, outputs, laws} = model;
  const parameters = tableLength;
  const coefficients = parameters + parametersPerLaw * laws.length;
  const state = coefficients + coefficientCount(model);
  const points = state + knownLength(model);
  const past = points + laws.length;
  const input = past + pastSteps * laws.length;
  const output = input + blockLength * stages;
  return {parameters, coefficients, state, points, past, input, output, end: output + blockLength * outputs};
}
