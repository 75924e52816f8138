import {assembled} from "./assembler.ts";
import * as wasm from "./wasm-code.ts";
import type {Code} from "./wasm-code.ts";

/** What a filter does to a stream's rate. */
export type RateStep = "doubles" | "halves";

/** A half-band filter as machine code: `line` takes what is to be filtered, after `run(count)` the result stands in `out`. */
export type CompiledFilter = Readonly<{
  line: Float64Array;
  out: Float64Array;
  run: (count: number) => number;
}>;

const {add, addI32, get, i32, lessI32, load, mul, set, store, total} = wasm;

/**
 * The filter of `half-band.ts` with every tap written out; undefined where there is no WebAssembly.
 *
 * @param taps right half of the filter
 * @param past numbers of the line that stand before a block
 * @param longest numbers of a block
 */
export function compiledFilter(
  step: RateStep,
  taps: Float64Array,
  past: number,
  longest: number,
): CompiledFilter | undefined {
  const line = taps.length;
  const out = line + past + longest;
  const end = out + (step === "doubles" ? 2 * longest : longest / 2);
  const code = assembled(`${step} ${taps.length} ${longest}`, () => filterModule(step, taps.length, line, out), end);
  if (!code) return undefined;
  const {memory, run} = code;
  memory.set(taps);
  return {line: memory.subarray(line, out), out: memory.subarray(out, end), run};
}

/** A module whose function "run" makes as many turns as it is told: two numbers from one, or one from two. */
function filterModule(step: RateStep, taps: number, line: number, out: number): Uint8Array<ArrayBuffer> {
  const [turn, inAt, outAt] = [1, 2, 3];
  const at = (place: number): Code => load(get(inAt), 8 * (line + place));
  const stored = (place: number, value: Code): Code => store(get(outAt), 8 * (out + place), value);
  // Pairs of equal taps about the middle, a place apart when doubling, two when halving, where every other tap is 0.
  const pairs = (left: number, apart: number): Code =>
    total(
      Array.from({length: taps}, (_, k) =>
        mul(load(i32(0), 8 * k), add(at(left - apart * k), at(left + 1 + (apart - 1) + apart * k))),
      ),
    );
  const middle = 2 * taps - 1;
  const body =
    step === "doubles"
      ? [...stored(0, mul(wasm.f64(2), pairs(taps - 1, 1))), ...stored(1, at(taps))]
      : stored(0, add(mul(wasm.f64(0.5), at(middle)), pairs(middle - 1, 2)));
  const [read, written] = step === "doubles" ? [1, 2] : [2, 1];
  const run = [
    ...wasm.block(
      wasm.loop(
        wasm.leaveIf(1, wasm.notI32(lessI32(get(turn), get(0)))),
        body,
        set(turn, addI32(get(turn), i32(1))),
        set(inAt, addI32(get(inAt), i32(8 * read))),
        set(outAt, addI32(get(outAt), i32(8 * written))),
        wasm.leave(0),
      ),
    ),
    ...get(turn),
  ];
  const signature = {takes: ["i32"], gives: ["i32"]} as const;
  return wasm.wasmModule([], [{name: "run", signature, locals: ["i32", "i32", "i32"], body: run}]);
}
