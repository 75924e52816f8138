import {heldBack} from "../law-at-work.ts";
import type {StepModel} from "../step-model.ts";
import {assembled} from "./assembler.ts";
import {powersOfTwo} from "./emit-exponential.ts";
import {lawParameters} from "./emit-laws.ts";
import {stepModule} from "./emit-step.ts";
import {layoutOf, parametersPerLaw, type Layout} from "./layout.ts";

/** A model's step as machine code, and the memory it works in. */
export type CompiledStep = Readonly<{
  layout: Layout;
  /** The whole memory, as `layout` divides it. */
  memory: Float64Array<ArrayBuffer>;
  /** Makes up to `count` steps from the inputs in the memory to the outputs there; returns how many. */
  run: (count: number) => number;
  /** Writes the laws' parameters. */
  useLaws: (model: StepModel) => void;
}>;

/** The step of a model as WebAssembly, one module for all models of a shape; undefined where there can be none. */
export function compiledStep(model: StepModel, smallestStep: number): CompiledStep | undefined {
  const layout = layoutOf(model);
  const bytes = () => stepModule(model, layout, smallestStep);
  const code = assembled(shapeOf(model, smallestStep), bytes, layout.end, {limit: heldBack});
  if (!code) return undefined;
  const {memory, run} = code;
  memory.set(powersOfTwo());
  const useLaws = ({laws}: StepModel): void =>
    laws.forEach((law, k) => memory.set(lawParameters(law), layout.parameters + parametersPerLaw * k));
  useLaws(model);
  return {layout, memory, run, useLaws};
}

/** What a module depends on, whatever the values. */
function shapeOf({states, stages, outputs, ports, columns, laws}: StepModel, smallestStep: number): string {
  const places = laws.map(({law, port, sign, column, weight, tangent}) => [
    law.kind,
    port,
    sign,
    column,
    weight,
    tangent !== 0,
  ]);
  return JSON.stringify([states, stages, outputs, ports, columns, smallestStep, places]);
}
