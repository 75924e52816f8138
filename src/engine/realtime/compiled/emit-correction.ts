/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {StepModel} from "../step-model.ts";
import {bytes, matrixCode} from "./emit-matrix.ts";
import {solved} from "./emit-solve.ts";
import {traceWidth, type Layout} from "./layout.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local, ValueType} from "./wasm-code.ts";

const {abs, add, addI32, atMost, either, f64, get, i32, lessI32, load, mul, mulI32, set, store, sub, total} = wasm;

/** Volts of a correction at any law beyond which its equation, a tangent, tells nothing: then it starts anew from 0. */
const mostVolts = 0.1;

/**
 * Share of its memory that the twin keeps from step to step: a quarter of a millisecond at 384 kHz. Of sounds from 1 kHz on, where
 * the rule errs, it then takes out nearly all; what rings beyond hearing, where the differences tell nothing, cannot add up.
 */
const kept = 0.99;

/**
 * The function "correct", which takes the trapezoidal rule's own error out of the outputs of the steps from one up to another, each a
 * step late.
 *
 * A step leaves out a twelfth of the second difference of every store's current. That drives a twin of the circuit, linear along
 * the path the steps have taken, whose memory is the error; what it makes of the outputs is added to them. The steps themselves
 * know nothing of it, so that it takes no stability from them, until an edge is made in shorter ones (`edge-steps.ts`).
 *
 * Method: defect correction, Stetter, Numerische Mathematik 29, 425–443 (1978) [from memory].
 */
export function correctionFunction(model: StepModel, layout: Layout): wasm.Written {
  const {states, outputs, ports, columns, laws} = model;
  const types: ValueType[] = [];
  const [step, end] = [0, 1]; // the arguments
  const local = (type: ValueType): Local => types.push(type) + end;
  const floats = (count: number): Local[] => Array.from({length: count}, () => local("f64"));
  const [outAt, traceAt] = [local("i32"), local("i32")];
  const [error, last, changed1, changed2, changed3] = Array.from({length: 5}, () => floats(states)) as Five;
  const [give, held] = [floats(laws.length), floats(outputs)];
  const [driven, changed] = [floats(states), local("f64")];
  const [drive, sum, scratch] = [floats(ports), floats(columns), floats(columns)];
  const jacobian = floats(columns * columns);
  const most = local("f64");
  const {entry, rowTimes} = matrixCode(model, layout);
  const signed = (sign: number, code: Code): Code => (sign === 1 ? code : wasm.neg(code));
  // As `twinOf` has them.
  const remembered = [...error, ...driven, ...last, ...changed1, ...changed2, ...changed3, ...give, ...held];

  // Half the change of a store's memory is its current, in the memory's unit: a twelfth of the mean of two second differences.
  const drives = error.flatMap((each, k) => [
    ...set(changed, sub(load(get(traceAt), bytes(layout.trace + k)), get(last[k]!))),
    ...set(
      driven[k]!,
      sub(
        mul(f64(kept), get(each)),
        mul(f64(1 / 24), add(sub(get(changed), get(changed1[k]!)), sub(get(changed3[k]!), get(changed2[k]!)))),
      ),
    ),
    ...set(changed3[k]!, get(changed2[k]!)),
    ...set(changed2[k]!, get(changed1[k]!)),
    ...set(changed1[k]!, get(changed)),
    ...set(last[k]!, add(get(last[k]!), get(changed))),
  ]);
  const feeding = (column: number, adds: (k: number) => Code): Code[] =>
    laws.flatMap((law, k) => (law.column === column ? [adds(k)] : []));
  const solve = [
    ...drive.flatMap((each, g) => set(each, total(rowTimes("D", g, driven)))),
    ...sum.flatMap((each, column) =>
      set(
        each,
        total(
          feeding(column, (k) =>
            signed(laws[k]!.weight * laws[k]!.sign, mul(get(give[k]!), get(drive[laws[k]!.port]!))),
          ),
        ),
      ),
    ),
    ...jacobian.flatMap((each, at) => {
      const [row, j] = [Math.floor(at / columns), at % columns];
      const pulls = feeding(row, (k) => {
        const {weight, sign, port} = laws[k]!;
        return signed(-weight * sign, mul(get(give[k]!), entry("K", port * columns + j)));
      });
      return set(each, row === j ? add(f64(1), total(pulls)) : total(pulls));
    }),
    ...solved(jacobian, sum, scratch),
    // No volts, or no number where a change is not known yet.
    ...set(most, abs(mul(f64(0), total(driven.map(get))))),
    ...drive.flatMap((each, g) => set(most, wasm.max(get(most), abs(add(get(each), total(rowTimes("K", g, sum))))))),
  ];
  const apply = [
    ...error.flatMap((each, row) => set(each, total([...rowTimes("A", row, driven), ...rowTimes("C", row, sum)]))),
    ...held.flatMap((each, row) =>
      set(each, total([get(each), ...rowTimes("L", row, driven), ...rowTimes("N", row, sum)])),
    ),
  ];
  const body: Code = [
    ...remembered.flatMap((each, k) => set(each, load(i32(0), bytes(layout.twin + k)))),
    ...set(outAt, mulI32(get(step), i32(bytes(outputs)))),
    ...set(traceAt, mulI32(get(step), i32(bytes(traceWidth(model))))),
    ...wasm.block(
      wasm.loop(
        wasm.leaveIf(1, wasm.notI32(lessI32(get(step), get(end)))),
        drives,
        solve,
        // Negated in effect: what is no number is not at most anything, and starts anew too.
        either(
          atMost(get(most), f64(mostVolts)),
          apply,
          error.flatMap((each) => set(each, f64(0))),
        ),
        held.flatMap((each, row) => [
          ...set(changed, load(get(outAt), bytes(layout.output + row))),
          ...store(get(outAt), bytes(layout.output + row), get(each)),
          ...set(each, get(changed)),
        ]),
        give.flatMap((each, k) => set(each, load(get(traceAt), bytes(layout.trace + states + k)))),
        set(step, addI32(get(step), i32(1))),
        set(outAt, addI32(get(outAt), i32(bytes(outputs)))),
        set(traceAt, addI32(get(traceAt), i32(bytes(traceWidth(model))))),
        wasm.leave(0),
      ),
    ),
    ...remembered.flatMap((each, k) => store(i32(0), bytes(layout.twin + k), get(each))),
    ...get(step),
  ];
  return {name: "correct", signature: {takes: ["i32", "i32"], gives: ["i32"]}, locals: types, body};
}

type Five = [Local[], Local[], Local[], Local[], Local[]];
