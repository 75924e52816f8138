// The engine is written without a browser's types; this is what it uses of the WebAssembly JavaScript Interface (W3C, 2019).
type Module = object;
type Assembler = Readonly<{
  Module: new (bytes: Uint8Array<ArrayBuffer>) => Module;
  Memory: new (pages: {initial: number}) => {buffer: ArrayBuffer};
  Instance: new (module: Module, imports: object) => {exports: Record<string, unknown>};
  CompileError: new () => Error;
}>;

/** Machine code at work: its memory, `doubles` long, the function "run" that it exports, and "correct" if it has that. */
export type Assembled = Readonly<{
  memory: Float64Array<ArrayBuffer>;
  run: (...counts: readonly number[]) => number;
  correct: ((begin: number, end: number) => number) | undefined;
}>;

const pageBytes = 65536;
const kept = 32;
const modules = new Map<string, Module>();

/**
 * Machine code from the bytes of a module as `wasmModule` writes it, made once for all that share `key`; undefined where there
 * is no WebAssembly, or the page's policy forbids it.
 *
 * @param imported functions that the code calls, by name
 */
export function assembled(
  key: string,
  bytes: () => Uint8Array<ArrayBuffer>,
  doubles: number,
  imported: Readonly<Record<string, unknown>> = {},
): Assembled | undefined {
  const {WebAssembly: assembler} = globalThis as {WebAssembly?: Assembler};
  if (!assembler) return undefined;
  const memory = new assembler.Memory({initial: Math.ceil((8 * doubles) / pageBytes)});
  try {
    const module = modules.get(key) ?? new assembler.Module(bytes());
    keep(key, module);
    const {exports} = new assembler.Instance(module, {engine: {...imported, memory}});
    const run = exports["run"] as Assembled["run"];
    const correct = exports["correct"] as Assembled["correct"];
    return {memory: new Float64Array(memory.buffer, 0, doubles), run, correct};
  } catch (error) {
    if (error instanceof assembler.CompileError) return undefined;
    throw error;
  }
}

function keep(key: string, module: Module): void {
  const [oldest] = modules.keys();
  if (modules.size >= kept && oldest !== undefined) modules.delete(oldest);
  modules.set(key, module);
}
