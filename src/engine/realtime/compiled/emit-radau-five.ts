/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {diodeRange} from "../../analysis/nonlinearities.ts";
import type {TableLaw} from "../law-table.ts";
import {modelPlaces} from "../radau-five-model.ts";
import {newtonShare, outcomes, stages, type RadauFiveSizes} from "../radau-five-step.ts";
import {exponential} from "./emit-exponential.ts";
import {lawAt, type Parameter, type Scratch} from "./emit-laws.ts";
import {solved} from "./emit-solve.ts";
import {parametersPerLaw} from "./layout.ts";
import type {RadauFiveLayout} from "./radau-five-layout.ts";
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
  min,
  mul,
  set,
  store,
  sub,
  total,
} = wasm;

/** Rounds of Newton's method before a step counts as unsolved. */
const rounds = 10;

/**
 * A module whose function "run" tries one step of three-stage Radau IIA. It takes the addresses of the model and of the guess's weights in
 * bytes; a step that was good is kept in the memory, any other has left no trace but its error.
 */
export function radauFiveModule(
  sizes: RadauFiveSizes,
  laws: readonly TableLaw[],
  layout: RadauFiveLayout,
): Uint8Array<ArrayBuffer> {
  const {states: n, ports: g, outputs: r, columns: c} = sizes;
  const m = laws.length;
  const [all, sums, places] = [stages * m, stages * c, stages * g];
  const types: ValueType[] = [];
  const local = (type: ValueType): Local => types.push(type) + 1; // indices 0 and 1 are the arguments
  const floats = (count: number): Local[] => Array.from({length: count}, () => local("f64"));
  const [model, weights, round] = [0, 1, local("i32")];
  const scratch: Scratch = {z: local("f64"), e: local("f64"), rest: local("f64"), bits: local("i64")};
  const [state, next, scale, defect, error] = [floats(n), floats(n), floats(n), floats(n), floats(n)];
  const u = floats(stages);
  const outputScale = floats(r);
  const outputNext = floats(stages * r);
  const before = Array.from({length: stages + 1}, () => floats(m));
  const [point, value, slope, share, miss, delta, give] = [
    floats(all),
    floats(all),
    floats(all),
    floats(all),
    floats(all),
    floats(all),
    floats(all),
  ];
  const [drive, port, sum, change, inverse] = [
    floats(places),
    floats(places),
    floats(sums),
    floats(sums),
    floats(sums),
  ];
  const jacobian = floats(sums * sums);
  const [bend, moved, spare] = [local("f64"), local("f64"), local("f64")];

  const bytes = (place: number) => 8 * place;
  const {outputs: afterPorts, memory: afterOutputs, sums: firstSum, across, smooth} = modelPlaces(sizes);
  const lastOutputs = afterOutputs - r;
  const coefficient = (at: number): Code => load(get(model), bytes(at));
  const fixed = (place: number): Code => load(i32(0), bytes(place));
  const linear = (row: number): Code =>
    total([
      coefficient(row * across + n + stages),
      ...[...state, ...u].map((each, k) => mul(coefficient(row * across + k), get(each))),
    ]);
  const ofSums = (row: number, vector: readonly Local[]): Code =>
    total(vector.map((each, k) => mul(coefficient(row * across + firstSum + k), get(each))));
  const whole = (row: number): Code => (c === 0 ? linear(row) : add(linear(row), ofSums(row, sum)));
  const signed = (positive: boolean, code: Code): Code => (positive ? code : wasm.neg(code));
  const parameterOf =
    (law: number): Parameter =>
    (index) =>
      fixed(layout.parameters + parametersPerLaw * law + index);
  const stagesOf = (k: number) => ({law: laws[k % m]!, at: k % m, stage: Math.floor(k / m)});
  const portOf = (k: number): number => stagesOf(k).stage * g + stagesOf(k).law.port;
  const feeding = (column: number, adds: (law: TableLaw, k: number) => Code): Code[] =>
    Array.from({length: all}, (_, k) => k).flatMap((k) => {
      const {law, stage} = stagesOf(k);
      return stage * c + law.column === column ? [adds(law, k)] : [];
    });
  const hasDrop = ({law, members}: TableLaw): boolean => law.kind === "diode" && members.length === 1;

  /** Sets `result` to where a step to what it holds may go: the rare one that must be cut is left to a function outside. */
  const limitedTo = (k: number, from: Code, result: Local): Code => {
    const {law, members} = laws[k]!;
    if (law.kind !== "diode" && law.kind !== "clamp") return [];
    const [width, critical] = [parameterOf(k)(3), parameterOf(k)(4)];
    return either(
      greater(abs(sub(get(result), from)), mul(f64(2), width)),
      set(result, wasm.call(members.length > 1 ? 1 : 0, from, get(result), width, critical)),
    );
  };

  const back = spare;
  const pairAt = (k: number, law: number): Code => [
    ...set(scratch.z, abs(mul(get(point[k]!), parameterOf(law)(0)))),
    ...set(value[k]!, add(f64(1), max(f64(0), sub(get(scratch.z), f64(diodeRange[1]))))),
    ...set(scratch.z, min(get(scratch.z), f64(diodeRange[1]))),
    ...exponential(scratch.z, scratch.e, scratch.rest, scratch.bits),
    ...set(back, div(f64(1), get(scratch.e))),
    ...set(slope[k]!, mul(add(get(scratch.e), get(back)), parameterOf(law)(2))),
    ...set(value[k]!, mul(sub(mul(get(scratch.e), get(value[k]!)), get(back)), parameterOf(law)(1))),
    ...either(wasm.less(get(point[k]!), f64(0)), set(value[k]!, wasm.neg(get(value[k]!)))),
  ];
  const addUp: Code = sum.flatMap((each, column) =>
    set(each, total(feeding(column, ({weight}, k) => signed(weight === 1, get(value[k]!))))),
  );
  const look: Code = [
    ...point.flatMap((each, k) => {
      const {law, at} = stagesOf(k);
      return law.members.length > 1
        ? pairAt(k, at)
        : lawAt(law.law.kind, parameterOf(at), each, value[k]!, slope[k]!, scratch);
    }),
    ...addUp,
    ...port.flatMap((each, row) => set(each, add(get(drive[row]!), ofSums(row, sum)))),
    ...point.flatMap((each, k) => {
      const {law, at} = stagesOf(k);
      const plain = sub(get(each), signed(law.sign === 1, get(port[portOf(k)]!)));
      return [
        ...set(miss[k]!, hasDrop(law) ? add(plain, mul(parameterOf(at)(5), get(value[k]!))) : plain),
        ...(hasDrop(law) ? set(share[k]!, div(f64(1), add(f64(1), mul(parameterOf(at)(5), get(slope[k]!))))) : []),
        ...set(give[k]!, hasDrop(law) ? mul(get(slope[k]!), get(share[k]!)) : get(slope[k]!)),
      ];
    }),
  ];
  const derive: Code = [
    ...change.flatMap((each, column) =>
      set(each, total(feeding(column, ({weight}, k) => signed(weight === -1, mul(get(give[k]!), get(miss[k]!)))))),
    ),
    ...jacobian.flatMap((each, at) => {
      const [row, j] = [Math.floor(at / sums), at % sums];
      const pulls = feeding(row, ({weight, sign}, k) =>
        signed(weight !== sign, mul(get(give[k]!), coefficient(portOf(k) * across + firstSum + j))),
      );
      return set(each, row === j ? add(f64(1), total(pulls)) : total(pulls));
    }),
  ];
  const largest = (into: Local, codes: readonly Code[]): Code => [
    ...set(into, codes[0] ?? f64(0)),
    ...codes.slice(1).flatMap((code) => set(into, max(get(into), code))),
  ];
  const newton: Code =
    m === 0
      ? []
      : [
          ...point.flatMap((each, k) => {
            const {at, stage} = stagesOf(k);
            const terms = before.map((row, i) =>
              mul(load(get(weights), bytes(stage * (stages + 1) + i)), get(row[at]!)),
            );
            return [...set(each, total(terms)), ...limitedTo(at, get(before[stages]![at]!), each)];
          }),
          ...set(round, i32(0)),
          ...wasm.block(
            wasm.loop(
              look,
              derive,
              solved(jacobian, change, inverse),
              port.flatMap((each, row) => set(each, ofSums(row, change))),
              delta.flatMap((each, k) => {
                const {law} = stagesOf(k);
                const step = sub(signed(law.sign === 1, get(port[portOf(k)]!)), get(miss[k]!));
                return set(each, hasDrop(law) ? mul(step, get(share[k]!)) : step);
              }),
              largest(
                bend,
                delta.map((each, k) => mul(abs(get(each)), parameterOf(stagesOf(k).at)(0))),
              ),
              largest(moved, [
                ...scale.map((each, i) => div(abs(ofSums(afterOutputs + i, change)), get(each))),
                ...outputScale.map((each, i) => div(abs(ofSums(lastOutputs + i, change)), get(each))),
              ]),
              either(wasm.andI32(atMost(get(bend), f64(1)), atMost(mul(get(bend), get(moved)), f64(2 * newtonShare))), [
                ...sum.flatMap((each, k) => set(each, add(get(each), get(change[k]!)))),
                ...point.flatMap((each, k) => set(each, add(get(each), get(delta[k]!)))),
                ...wasm.leave(2),
              ]),
              point.flatMap((each, k) => [
                ...set(spare, add(get(each), get(delta[k]!))),
                ...limitedTo(stagesOf(k).at, get(each), spare),
                ...set(each, get(spare)),
              ]),
              set(round, addI32(get(round), i32(1))),
              wasm.leaveIf(0, lessI32(get(round), i32(rounds))),
            ),
            i32(outcomes.unsolved),
            [0x0f],
          ),
        ];

  /** Error of the memory: the equations' real part, laws at their slopes, takes the slope that the cubic lacks at its start. */
  const [small, smallMatrix] = [change.slice(0, c), jacobian.slice(0, c * c)];
  const lastLaw = (stages - 1) * m;
  const lawEntry = (row: number, column: number): Code => coefficient(smooth + row * (n + c) + n + column);
  const smoothed = (row: number): Code =>
    total(defect.map((each, k) => mul(coefficient(smooth + row * (n + c) + k), get(each))));
  const feedingOne = (column: number, adds: (law: TableLaw, k: number) => Code): Code[] =>
    laws.flatMap((law, k) => (law.column === column ? [adds(law, lastLaw + k)] : []));
  const estimate: Code = [
    ...port.slice(0, g).flatMap((each, row) => set(each, smoothed(n + row))),
    ...small.flatMap((each, column) =>
      set(
        each,
        total(
          feedingOne(column, ({weight, sign, port: at}, k) =>
            signed(weight === sign, mul(get(give[k]!), get(port[at]!))),
          ),
        ),
      ),
    ),
    ...smallMatrix.flatMap((each, at) => {
      const [row, j] = [Math.floor(at / c), at % c];
      const pulls = feedingOne(row, ({weight, sign, port: from}, k) =>
        signed(weight !== sign, mul(get(give[k]!), lawEntry(n + from, j))),
      );
      return set(each, row === j ? add(f64(1), total(pulls)) : total(pulls));
    }),
    ...solved(smallMatrix, small, inverse.slice(0, c)),
    ...error.flatMap((each, row) =>
      set(each, add(smoothed(row), total(small.map((value, j) => mul(lawEntry(row, j), get(value)))))),
    ),
  ];

  const tolerance = (absolute: number, of: Code): Code => add(fixed(absolute), mul(fixed(layout.relative), abs(of)));
  /** How far each output's cubic passes by the place where the step before has been, in tolerances of what that says of the step. */
  const bends = Array.from({length: r}, (_, i) => {
    const weight = (k: number): Code => load(get(weights), bytes(stages * (stages + 1) + k));
    const start = fixed(layout.output + 4 * r + i);
    const onCubic = [start, ...[0, 1, 2].map((stage) => get(outputNext[stage * r + i]!))];
    const missed = sub(fixed(layout.output + 3 * r + i), total(onCubic.map((each, k) => mul(weight(k), each))));
    const end = tolerance(layout.volts, get(outputNext[2 * r + i]!));
    return div(mul(abs(missed), weight(stages + 1)), max(end, tolerance(layout.volts, start)));
  });
  const stored = (place: number, code: Code): Code => store(i32(0), bytes(place), code);
  const body: Code = [
    ...state.flatMap((each, i) => [
      ...set(each, fixed(layout.state + i)),
      ...set(scale[i]!, tolerance(layout.absolute + i, get(each))),
    ]),
    ...outputScale.flatMap((each, i) => set(each, tolerance(layout.volts, fixed(layout.output + 4 * r + i)))),
    ...u.flatMap((each, i) => set(each, fixed(layout.input + i))),
    ...before.flat().flatMap((each, i) => set(each, fixed(layout.points + i))),
    ...drive.flatMap((each, row) => set(each, linear(row))),
    ...newton,
    ...next.flatMap((each, i) => [
      ...set(each, whole(afterOutputs + i)),
      ...set(scale[i]!, max(get(scale[i]!), tolerance(layout.absolute + i, get(each)))),
    ]),
    ...defect.flatMap((each, i) => set(each, sub(fixed(layout.slope + i), whole(afterOutputs + n + i)))),
    ...estimate,
    ...outputNext.flatMap((each, k) => set(each, whole(afterPorts + k))),
    ...largest(bend, [...error.map((each, i) => div(abs(get(each)), get(scale[i]!))), ...bends]),
    ...stored(layout.error, get(bend)),
    ...either(wasm.notI32(atMost(get(bend), fixed(layout.limit))), [...i32(outcomes.inaccurate), 0x0f]),
    // What is kept: the last output but one goes on as a place that the next step's curve leads through.
    ...Array.from({length: r}, (_, k) => [
      ...stored(layout.output + k, fixed(layout.output + 3 * r + k)),
      ...stored(layout.output + r + k, fixed(layout.output + 4 * r + k)),
    ]).flat(),
    ...Array.from({length: stages * r}, (_, k) => stored(layout.output + 2 * r + k, get(outputNext[k]!))).flat(),
    ...state.flatMap((_, i) => [
      ...stored(layout.slope + i, whole(afterOutputs + 2 * n + i)),
      ...stored(layout.state + i, get(next[i]!)),
    ]),
    ...before[stages]!.flatMap((each, k) => stored(layout.points + k, get(each))),
    ...point.flatMap((each, k) => stored(layout.points + m + k, get(each))),
    ...i32(outcomes.good),
  ];
  const limit = {takes: ["f64", "f64", "f64", "f64"], gives: ["f64"]} as const;
  return wasm.wasmModule(
    [
      {name: "limit", signature: limit},
      {name: "limitPair", signature: limit},
    ],
    [{name: "run", signature: {takes: ["i32", "i32"], gives: ["i32"]}, locals: types, body}],
  );
}
