/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {modelPlaces} from "../radau-five-model.ts";
import {newtonShare, outcomes, stages, type RadauFiveSizes} from "../radau-five-step.ts";
import type {TableLaw} from "../table-laws.ts";
import type {Scratch} from "./emit-laws.ts";
import {solved} from "./emit-solve.ts";
import {limits, tableLawCode} from "./emit-table-laws.ts";
import type {RadauFiveLayout} from "./radau-five-layout.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local, ValueType} from "./wasm-code.ts";

const {abs, add, addI32, atMost, div, either, f64, get, i32, lessI32, load, max, mul, set, store, sub, total} = wasm;

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
  const [point, value, slope, share, miss, delta, give] = Array.from({length: 7}, () => floats(all)) as Seven;
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
  const code = tableLawCode(laws, layout.parameters, scratch, spare);
  const stagesOf = (k: number) => ({law: laws[k % m]!, at: k % m, stage: Math.floor(k / m)});
  const portOf = (k: number): number => stagesOf(k).stage * g + stagesOf(k).law.port;
  const feeding = (column: number, adds: (law: TableLaw, k: number) => Code): Code[] =>
    Array.from({length: all}, (_, k) => k).flatMap((k) => {
      const {law, stage} = stagesOf(k);
      return stage * c + law.column === column ? [adds(law, k)] : [];
    });
  const addUp: Code = sum.flatMap((each, column) =>
    set(each, total(feeding(column, ({weight}, k) => signed(weight === 1, code.added(k % m, value[k]!, point[k]!))))),
  );
  const look: Code = [
    ...point.flatMap((at, k) => code.look(k % m, at, value[k]!, slope[k]!)),
    ...addUp,
    ...port.flatMap((each, row) => set(each, add(get(drive[row]!), ofSums(row, sum)))),
    ...point.flatMap((at, k) => {
      const ohms = code.ohms(k % m);
      const plain = sub(get(at), signed(stagesOf(k).law.sign === 1, get(port[portOf(k)]!)));
      const steep = code.slopeAdded(k % m, slope[k]!);
      if (ohms === undefined) return [...set(miss[k]!, plain), ...set(give[k]!, steep)];
      return [
        ...set(miss[k]!, add(plain, mul(ohms, get(value[k]!)))),
        ...set(share[k]!, div(f64(1), add(f64(1), mul(ohms, get(slope[k]!))))),
        ...set(give[k]!, mul(steep, get(share[k]!))),
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
            return [...set(each, total(terms)), ...code.limited(at, get(before[stages]![at]!), each)];
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
                return set(each, code.ohms(k % m) ? mul(step, get(share[k]!)) : step);
              }),
              largest(
                bend,
                delta.map((each, k) => mul(abs(get(each)), code.perWidth(k % m))),
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
                ...code.limited(k % m, get(each), spare),
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
  const errorOf = (row: number): Code =>
    add(smoothed(row), total(small.map((value, j) => mul(lawEntry(row, j), get(value)))));
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
    ...error.flatMap((each, row) => set(each, errorOf(row))),
  ];

  const tolerance = (absolute: number, of: Code): Code => add(fixed(absolute), mul(fixed(layout.relative), abs(of)));
  /** Error of each output, of its memory's and of its cubic, by how far that passes by where the step before has been, in tolerances. */
  const outputErrors = Array.from({length: r}, (_, i) => {
    const weight = (k: number): Code => load(get(weights), bytes(stages * (stages + 1) + k));
    const start = fixed(layout.output + 4 * r + i);
    const onCubic = [start, ...[0, 1, 2].map((stage) => get(outputNext[stage * r + i]!))];
    const missed = sub(fixed(layout.output + 3 * r + i), total(onCubic.map((each, k) => mul(weight(k), each))));
    const end = tolerance(layout.volts, get(outputNext[2 * r + i]!));
    const between = mul(abs(missed), weight(stages + 1));
    return div(max(between, abs(errorOf(n + g + i))), max(end, tolerance(layout.volts, start)));
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
    ...largest(bend, [...error.map((each, i) => div(abs(get(each)), get(scale[i]!))), ...outputErrors]),
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
  const limit = {takes: ["f64", "f64", "f64", "f64", "f64"], gives: ["f64"]} as const;
  return wasm.wasmModule(
    [...limits.map((name) => ({name, signature: limit}))],
    [{name: "run", signature: {takes: ["i32", "i32"], gives: ["i32"]}, locals: types, body}],
  );
}

type Seven = [Local[], Local[], Local[], Local[], Local[], Local[], Local[]];
