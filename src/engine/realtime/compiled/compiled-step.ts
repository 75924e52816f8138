import {heldBack} from "../law-at-work.ts";
import type {StepModel} from "../step-model.ts";
import {assembled} from "./assembler.ts";
import {powersOfTwo} from "./emit-exponential.ts";
import {lawParameters} from "./emit-laws.ts";
import {correctionFunction} from "./emit-correction.ts";
import {imported, stepFunction} from "./emit-step.ts";
import {layoutOf, parametersPerLaw, type Layout} from "./layout.ts";
import {wasmModule} from "./wasm-code.ts";

/** A model's step as machine code, and the memory it works in. */
export type CompiledStep = Readonly<{
  layout: Layout;
  /** The whole memory, as `layout` divides it. */
  memory: Float64Array<ArrayBuffer>;
  /** Makes the steps from `begin` up to `end`, from the inputs in the memory to the outputs there; returns which it has come to. */
  run: (begin: number, end: number) => number;
  /** Corrects the outputs of the steps just made, where that was asked for. */
  correct?: (begin: number, end: number) => number;
  /** Writes the laws' parameters. */
  useLaws: (model: StepModel) => void;
}>;

/**
 * The step of a model as WebAssembly, one module for all models of a shape; undefined where there can be none.
 *
 * @param corrects whether the rule's own error is to be taken out of the outputs: trapezoidal models alone
 */
export function compiledStep(model: StepModel, smallestStep: number, corrects: boolean): CompiledStep | undefined {
  const layout = layoutOf(model, corrects);
  const functions = () => [
    stepFunction(model, layout, smallestStep),
    ...(corrects ? [correctionFunction(model, layout)] : []),
  ];
  const key = shapeOf(model, smallestStep, corrects);
  const code = assembled(key, () => wasmModule(imported, functions()), layout.end, {limit: heldBack});
  if (!code) return undefined;
  const {memory, run, correct} = code;
  memory.set(powersOfTwo());
  const useLaws = ({laws}: StepModel): void =>
    laws.forEach((law, k) => memory.set(lawParameters(law), layout.parameters + parametersPerLaw * k));
  useLaws(model);
  return {layout, memory, run, ...(correct && {correct}), useLaws};
}

/** What a module depends on, whatever the values. */
function shapeOf(model: StepModel, smallestStep: number, corrects: boolean): string {
  const {states, stages, outputs, ports, columns, laws} = model;
  const places = laws.map(({law, port, sign, column, weight, tangent}) => [
    law.kind,
    port,
    sign,
    column,
    weight,
    tangent !== 0,
  ]);
  return JSON.stringify([states, stages, outputs, ports, columns, smallestStep, corrects, places]);
}
