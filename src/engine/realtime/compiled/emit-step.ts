/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {matrixOffsets, type MatrixName, type StepModel} from "../step-model.ts";
import {guessWeights, pastSteps} from "../guess.ts";
import {lawAt, limitedStep, type Parameter} from "./emit-laws.ts";
import {parametersPerLaw, type Layout} from "./layout.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local, ValueType} from "./wasm-code.ts";

const {abs, add, addI32, atMost, div, either, f64, get, i32, lessI32, load, max, mul, set, store, sub, total} = wasm;

/** Rounds of Newton's method in compiled code; a step that takes more is rare, and left to the general stepper. */
const rounds = 12;

/**
 * A module whose function "run" makes up to `count` steps of a model in straight-line code: every matrix is unrolled, its
 * numbers are read from the memory. It returns how many steps it has made: fewer where a step was not solved, and that one has
 * then left no trace.
 */
export function stepModule(model: StepModel, layout: Layout, smallestStep: number): Uint8Array<ArrayBuffer> {
  const {states, stages, outputs, ports, columns, laws} = model;
  const types: ValueType[] = [];
  const local = (type: ValueType): Local => types.push(type); // index 0 is the argument `count`
  const floats = (count: number): Local[] => Array.from({length: count}, () => local("f64"));
  const [step, round, inAt, outAt] = [local("i32"), local("i32"), local("i32"), local("i32")];
  const scratch = {z: local("f64"), e: local("f64"), rest: local("f64"), bits: local("i64")};
  const [state, next, u] = [floats(states), floats(states), floats(stages)];
  const [settled, point, value, slope, share, miss, delta, give] = Array.from({length: 8}, () =>
    floats(laws.length),
  ) as Eight;
  const past = Array.from({length: pastSteps}, () => floats(laws.length));
  const [drive, port] = [floats(ports), floats(ports)];
  const [sum, change] = [floats(columns), floats(columns)];
  const jacobian = floats(columns * columns);
  const factor = local("f64");
  const unsolved = local("i32");

  const offsets = matrixOffsets(model);
  const bytes = (place: number) => 8 * place;
  /** The terms of row `row` of a matrix times `vector`. */
  const rowTimes = (name: MatrixName, row: number, vector: readonly Local[]): Code[] => {
    const from = layout.coefficients + offsets[name];
    return vector.map((each, k) => mul(load(i32(0), bytes(from + row * vector.length + k)), get(each)));
  };
  const entry = (name: MatrixName, at: number): Code => load(i32(0), bytes(layout.coefficients + offsets[name] + at));
  const parameterOf =
    (law: number): Parameter =>
    (index) =>
      load(i32(0), bytes(layout.parameters + parametersPerLaw * law + index));
  const loadAll = (locals: readonly Local[], place: number): Code =>
    locals.flatMap((each, k) => set(each, load(i32(0), bytes(place + k))));
  const storeAll = (locals: readonly Local[], place: number): Code =>
    locals.flatMap((each, k) => store(i32(0), bytes(place + k), get(each)));
  const signed = (sign: 1 | -1, code: Code): Code => (sign === 1 ? code : wasm.neg(code));
  /** target += sign·code */
  const accumulate = (target: Local, sign: 1 | -1, code: Code): Code =>
    set(target, sign === 1 ? add(get(target), code) : sub(get(target), code));

  const look: Code = [
    ...laws.flatMap(({law}, k) => lawAt(law.kind, parameterOf(k), point[k]!, value[k]!, slope[k]!, scratch)),
    ...addUp(),
    ...port.flatMap((each, g) => set(each, add(get(drive[g]!), total(rowTimes("K", g, sum))))),
    ...laws.flatMap(({law, port: g, sign}, k) => {
      const plain = sub(get(point[k]!), signed(sign, get(port[g]!)));
      return set(miss[k]!, law.kind === "diode" ? add(plain, mul(parameterOf(k)(5), get(value[k]!))) : plain);
    }),
  ];
  function addUp(): Code {
    return sum.flatMap((each, column) => {
      const parts = laws.flatMap((law, k) => (law.column === column ? [signed(law.weight, get(value[k]!))] : []));
      return set(each, total(parts));
    });
  }

  const derive: Code = [
    ...jacobian.flatMap((each, at) => set(each, f64(at % (columns + 1) === 0 ? 1 : 0))),
    ...change.flatMap((each) => set(each, f64(0))),
    ...laws.flatMap(({law, port: g, sign, column, weight}, k) => [
      ...(law.kind === "diode"
        ? [
            ...set(share[k]!, div(f64(1), add(f64(1), mul(parameterOf(k)(5), get(slope[k]!))))),
            ...set(give[k]!, mul(get(slope[k]!), get(share[k]!))),
          ]
        : set(give[k]!, get(slope[k]!))),
      ...accumulate(change[column]!, weight === 1 ? -1 : 1, mul(get(give[k]!), get(miss[k]!))),
      ...Array.from({length: columns}, (_, j) => {
        const pull = mul(get(give[k]!), entry("K", g * columns + j));
        return accumulate(jacobian[column * columns + j]!, weight === sign ? -1 : 1, pull);
      }).flat(),
    ]),
  ];

  // Gauss without exchange of rows: a pivot that vanishes makes numbers that do not settle, and the step is left to the other.
  const solve: Code = Array.from({length: columns}, (_, k) => [
    ...Array.from({length: columns - k - 1}, (_, below) => {
      const i = k + 1 + below;
      return [
        ...set(factor, div(get(jacobian[i * columns + k]!), get(jacobian[k * columns + k]!))),
        ...Array.from({length: columns - k - 1}, (_, right) => {
          const j = k + 1 + right;
          return accumulate(jacobian[i * columns + j]!, -1, mul(get(factor), get(jacobian[k * columns + j]!)));
        }).flat(),
        ...accumulate(change[i]!, -1, mul(get(factor), get(change[k]!))),
      ];
    }).flat(),
  ])
    .flat()
    .concat(
      Array.from({length: columns}, (_, back) => {
        const k = columns - 1 - back;
        return [
          ...Array.from({length: back}, (_, right) =>
            accumulate(change[k]!, -1, mul(get(jacobian[k * columns + k + 1 + right]!), get(change[k + 1 + right]!))),
          ).flat(),
          ...set(change[k]!, div(get(change[k]!), get(jacobian[k * columns + k]!))),
        ];
      }).flat(),
    );

  const steps: Code = [
    ...port.flatMap((each, g) => set(each, total(rowTimes("K", g, change)))),
    ...laws.flatMap(({law, port: g, sign}, k) => {
      const whole = sub(signed(sign, get(port[g]!)), get(miss[k]!));
      return set(delta[k]!, law.kind === "diode" ? mul(whole, get(share[k]!)) : whole);
    }),
  ];
  const small = laws
    .map((_, k) => atMost(abs(get(delta[k]!)), mul(f64(smallestStep), max(f64(1), abs(get(point[k]!))))))
    .reduce<Code>((a, b, k) => (k === 0 ? b : wasm.andI32(a, b)), i32(1));

  const newton: Code =
    laws.length === 0
      ? []
      : [
          ...laws.flatMap(({law}, k) =>
            limitedStep(
              law.kind,
              parameterOf(k),
              settled[k]!,
              total([settled, ...past].map((each, back) => mul(f64(guessWeights[back]!), get(each[k]!)))),
              point[k]!,
              0,
            ),
          ),
          ...set(round, i32(0)),
          ...set(unsolved, i32(0)),
          ...wasm.block(
            wasm.loop(
              look,
              derive,
              solve,
              steps,
              either(small, [
                ...sum.flatMap((each, c) => accumulate(each, 1, get(change[c]!))),
                ...point.flatMap((each, k) => accumulate(each, 1, get(delta[k]!))),
                ...wasm.leave(2),
              ]),
              ...laws.map(({law}, k) => [
                ...set(value[k]!, add(get(point[k]!), get(delta[k]!))),
                ...limitedStep(law.kind, parameterOf(k), point[k]!, get(value[k]!), delta[k]!, 0),
                ...set(point[k]!, get(delta[k]!)),
              ]),
              set(round, addI32(get(round), i32(1))),
              wasm.leaveIf(0, lessI32(get(round), i32(rounds))),
            ),
            set(unsolved, i32(1)),
          ),
          ...wasm.leaveIf(1, get(unsolved)),
        ];

  const everyRow = (rows: number, S: MatrixName, U: MatrixName, steady: MatrixName, P: MatrixName) => (row: number) =>
    row < rows
      ? total([entry(steady, row), ...rowTimes(S, row, state), ...rowTimes(U, row, u), ...rowTimes(P, row, sum)])
      : [];
  const nextOf = everyRow(states, "A", "B", "H", "C");
  const outputOf = everyRow(outputs, "L", "M", "O", "N");

  const body: Code = [
    ...loadAll(state, layout.state),
    ...loadAll(settled, layout.points),
    ...loadAll(past.flat(), layout.past),
    ...set(inAt, i32(0)),
    ...set(outAt, i32(0)),
    ...wasm.block(
      wasm.loop(
        wasm.leaveIf(1, wasm.notI32(lessI32(get(step), get(0)))),
        u.flatMap((each, k) => set(each, load(get(inAt), bytes(layout.input + k)))),
        drive.flatMap((each, g) =>
          set(each, total([entry("F", g), ...rowTimes("D", g, state), ...rowTimes("E", g, u)])),
        ),
        newton,
        next.flatMap((each, row) => set(each, nextOf(row))),
        Array.from({length: outputs}, (_, row) => store(get(outAt), bytes(layout.output + row), outputOf(row))).flat(),
        state.flatMap((each, k) => set(each, get(next[k]!))),
        past.toReversed().flatMap((each, back) => {
          const before = [settled, ...past][pastSteps - 1 - back]!;
          return each.flatMap((one, k) => set(one, get(before[k]!)));
        }),
        settled.flatMap((each, k) => set(each, get(point[k]!))),
        set(step, addI32(get(step), i32(1))),
        set(inAt, addI32(get(inAt), i32(8 * stages))),
        set(outAt, addI32(get(outAt), i32(8 * outputs))),
        wasm.leave(0),
      ),
    ),
    ...storeAll(state, layout.state),
    ...storeAll(settled, layout.points),
    ...storeAll(past.flat(), layout.past),
    ...get(step),
  ];
  return wasm.wasmModule(
    [{name: "limit", signature: {takes: ["f64", "f64", "f64", "f64"], gives: ["f64"]}}],
    [{name: "run", signature: {takes: ["i32"], gives: ["i32"]}, locals: types, body}],
  );
}

type Eight = [Local[], Local[], Local[], Local[], Local[], Local[], Local[], Local[]];
