/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {MatrixName, PlacedLaw, StepModel} from "../step-model.ts";
import {guessWeights, pastSteps} from "../guess.ts";
import {lawAt, limitedStep, type Parameter} from "./emit-laws.ts";
import {parametersPerLaw, traceWidth, type Layout} from "./layout.ts";
import {bytes, matrixCode} from "./emit-matrix.ts";
import {solved} from "./emit-solve.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local, ValueType} from "./wasm-code.ts";

const {
  abs,
  add,
  addI32,
  atMost,
  div,
  either,
  f64,
  get,
  greater,
  i32,
  lessI32,
  load,
  max,
  mul,
  mulI32,
  set,
  store,
  sub,
  total,
} = wasm;

/** Rounds of Newton's method in compiled code; a step that takes more is rare, and left to the general stepper. */
const rounds = 12;

/** What the steps call: `heldBack`, by this name. */
export const imported: readonly wasm.Imported[] = [
  {name: "limit", signature: {takes: ["f64", "f64", "f64", "f64", "f64"], gives: ["f64"]}},
];

/**
 * The function "run", which makes the steps of a model from one up to another in straight-line code: every matrix is unrolled, its
 * numbers are read from the memory. It returns the step it has come to: an earlier one if that was not solved, and then it has left
 * no trace. Where the layout has room for them, memory and gives after every step are left there for the correction; a step in which
 * a law turns out further from its guess than `bend` says is not made either.
 */
export function stepFunction(model: StepModel, layout: Layout, smallestStep: number): wasm.Written {
  const {states, stages, outputs, ports, columns, laws} = model;
  const types: ValueType[] = [];
  const [step, end] = [0, 1]; // the arguments
  const local = (type: ValueType): Local => types.push(type) + end;
  const floats = (count: number): Local[] => Array.from({length: count}, () => local("f64"));
  const [round, inAt, outAt, traceAt] = Array.from({length: 4}, () => local("i32")) as Four;
  const traced = layout.corrects;
  const scratch = {z: local("f64"), e: local("f64"), rest: local("f64"), bits: local("i64")};
  const [state, next, u, out] = [floats(states), floats(states), floats(stages), floats(outputs)];
  const [settled, point, value, slope, share, miss, delta, give, guessed] = Array.from({length: 9}, () =>
    floats(laws.length),
  ) as Nine;
  const past = Array.from({length: pastSteps}, () => floats(laws.length));
  const pastByLaw = laws.flatMap((_, k) => past.map((each) => each[k]!));
  const [drive, port] = [floats(ports), floats(ports)];
  const [sum, change] = [floats(columns), floats(columns)];
  const jacobian = floats(columns * columns);
  const inverse = floats(columns);
  const unsolved = local("i32");

  const {entry, rowTimes} = matrixCode(model, layout);
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
    return sum.flatMap((each, column) => set(each, total(feeding(column, ({weight}, k) => signed(weight, added(k))))));
  }
  /** What a law adds to its column, and the slope of that over its voltage: value and slope, less what the linear part has. */
  function added(k: number): Code {
    if (laws[k]!.tangent === 0) return get(value[k]!);
    const parameter = parameterOf(k);
    return add(mul(parameter(6), get(value[k]!)), add(mul(parameter(7), get(point[k]!)), parameter(8)));
  }
  function slopeAdded(k: number): Code {
    if (laws[k]!.tangent === 0) return get(slope[k]!);
    return add(mul(parameterOf(k)(6), get(slope[k]!)), parameterOf(k)(7));
  }
  /** What each law that feeds a column adds to something. */
  function feeding(column: number, adds: (law: PlacedLaw, k: number) => Code): Code[] {
    return laws.flatMap((law, k) => (law.column === column ? [adds(law, k)] : []));
  }

  const derive: Code = [
    ...laws.flatMap(({law}, k) =>
      law.kind === "diode"
        ? [
            ...set(share[k]!, div(f64(1), add(f64(1), mul(parameterOf(k)(5), get(slope[k]!))))),
            ...set(give[k]!, mul(slopeAdded(k), get(share[k]!))),
          ]
        : set(give[k]!, slopeAdded(k)),
    ),
    ...change.flatMap((each, column) =>
      set(
        each,
        total(feeding(column, ({weight}, k) => signed(weight === 1 ? -1 : 1, mul(get(give[k]!), get(miss[k]!))))),
      ),
    ),
    ...jacobian.flatMap((each, at) => {
      const [row, j] = [Math.floor(at / columns), at % columns];
      const pulls = feeding(row, ({weight, sign, port: g}, k) =>
        signed(weight === sign ? -1 : 1, mul(get(give[k]!), entry("K", g * columns + j))),
      );
      return set(each, row === j ? add(f64(1), total(pulls)) : total(pulls));
    }),
  ];

  const solve = solved(jacobian, change, inverse);

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

  /** How far the laws stand from where they were guessed to. */
  const bent = laws
    .map((_, k) => abs(sub(get(point[k]!), get(guessed[k]!))))
    .reduce<Code>((a, b, k) => (k === 0 ? b : max(a, b)), f64(0));

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
          ...(traced ? guessed.flatMap((each, k) => set(each, get(point[k]!))) : []),
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
          ...(traced ? wasm.leaveIf(1, greater(bent, load(i32(0), bytes(layout.bend)))) : []),
        ];

  /** What a row of three matrices makes of memory and input, whatever the laws do. */
  const linear = (row: number, S: MatrixName, U: MatrixName, steady: MatrixName): Code =>
    total([entry(steady, row), ...rowTimes(S, row, state), ...rowTimes(U, row, u)]);
  const withLaws = (linear: Local, row: number, P: MatrixName): Code =>
    columns === 0 ? get(linear) : add(get(linear), total(rowTimes(P, row, sum)));

  const body: Code = [
    ...loadAll(state, layout.state),
    ...loadAll(settled, layout.points),
    ...loadAll(pastByLaw, layout.past),
    ...set(inAt, mulI32(get(step), i32(bytes(stages)))),
    ...set(outAt, mulI32(get(step), i32(bytes(outputs)))),
    ...(traced ? set(traceAt, mulI32(get(step), i32(bytes(traceWidth(model))))) : []),
    ...wasm.block(
      wasm.loop(
        wasm.leaveIf(1, wasm.notI32(lessI32(get(step), get(end)))),
        u.flatMap((each, k) => set(each, load(get(inAt), bytes(layout.input + k)))),
        drive.flatMap((each, g) => set(each, linear(g, "D", "E", "F"))),
        // Before the laws: a processor has it done while it waits for Newton's rounds, each of which needs the one before.
        next.flatMap((each, row) => set(each, linear(row, "A", "B", "H"))),
        out.flatMap((each, row) => set(each, linear(row, "L", "M", "O"))),
        newton,
        out.flatMap((each, row) => store(get(outAt), bytes(layout.output + row), withLaws(each, row, "N"))),
        state.flatMap((each, row) => set(each, withLaws(next[row]!, row, "C"))),
        ...(traced
          ? [
              [...state, ...give].flatMap((each, k) => store(get(traceAt), bytes(layout.trace + k), get(each))),
              set(traceAt, addI32(get(traceAt), i32(bytes(traceWidth(model))))),
            ]
          : []),
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
    ...storeAll(pastByLaw, layout.past),
    ...get(step),
  ];
  return {name: "run", signature: {takes: ["i32", "i32"], gives: ["i32"]}, locals: types, body};
}

type Four = [Local, Local, Local, Local];
type Nine = [Local[], Local[], Local[], Local[], Local[], Local[], Local[], Local[], Local[]];
