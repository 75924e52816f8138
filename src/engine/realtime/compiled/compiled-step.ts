import {limitedJunction} from "../../analysis/nonlinearities.ts";
import type {StepModel} from "../step-model.ts";
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

// The engine is written without a browser's types; this is what it uses of the WebAssembly JavaScript Interface (W3C, 2019).
type Module = object;
type Assembler = Readonly<{
  Module: new (bytes: Uint8Array<ArrayBuffer>) => Module;
  Memory: new (pages: {initial: number}) => {buffer: ArrayBuffer};
  Instance: new (module: Module, imports: object) => {exports: Record<string, unknown>};
  CompileError: new () => Error;
}>;

const pageBytes = 65536;
const kept = 24;
const modules = new Map<string, Module>();

/** The step of a model as WebAssembly; undefined where there is none, or the page's policy forbids it. */
export function compiledStep(model: StepModel, smallestStep: number): CompiledStep | undefined {
  const {WebAssembly: assembler} = globalThis as {WebAssembly?: Assembler};
  if (!assembler || model.laws.some(({tangent}) => tangent !== 0)) return undefined;
  const layout = layoutOf(model);
  const memory = new assembler.Memory({initial: Math.ceil((8 * layout.end) / pageBytes)});
  let run: unknown;
  try {
    const imports = {engine: {memory, limit: limitedJunction}};
    const module = moduleFor(assembler, model, layout, smallestStep);
    run = new assembler.Instance(module, imports).exports["run"];
  } catch (error) {
    if (error instanceof assembler.CompileError) return undefined;
    throw error;
  }
  const all = new Float64Array(memory.buffer, 0, layout.end);
  all.set(powersOfTwo());
  const useLaws = ({laws}: StepModel): void =>
    laws.forEach((law, k) => all.set(lawParameters(law), layout.parameters + parametersPerLaw * k));
  useLaws(model);
  return {layout, memory: all, run: run as CompiledStep["run"], useLaws};
}

/** One module for all models of a shape, whatever their values. */
function moduleFor({Module}: Assembler, model: StepModel, layout: Layout, smallestStep: number): Module {
  const places = model.laws.map(({law, port, sign, column, weight}) => [law.kind, port, sign, column, weight]);
  const {states, stages, outputs, ports, columns} = model;
  const key = JSON.stringify([states, stages, outputs, ports, columns, smallestStep, places]);
  const known = modules.get(key);
  if (known) return known;
  const [oldest] = modules.keys();
  if (modules.size >= kept && oldest !== undefined) modules.delete(oldest);
  const made = new Module(stepModule(model, layout, smallestStep));
  modules.set(key, made);
  return made;
}
