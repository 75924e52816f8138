/* eslint-disable @typescript-eslint/no-non-null-assertion -- every law named is one of those handed in */
import {clampRange, diodeRange} from "../../analysis/nonlinearities.ts";
import type {TableLaw} from "../table-laws.ts";
import {exponential} from "./emit-exponential.ts";
import {lawAt, type Parameter, type Scratch} from "./emit-laws.ts";
import {parametersPerLaw} from "./layout.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local} from "./wasm-code.ts";

const {abs, add, div, either, f64, get, greater, max, min, mul, set, sub} = wasm;

/** Functions outside that hold back a step too long for a law, and for a pair: from, to, width, critical voltage, steepest widths. */
export const limits = ["limit", "limitPair"] as const;

/** Pieces of code for each law of a table, by its place in it. */
export type TableLawCode = Readonly<{
  /** Sets a law's value and slope, at its junction, where it stands. */
  look: (law: number, at: Local, value: Local, slope: Local) => Code;
  /** What the law adds to its column for a value, and for a slope. */
  added: (law: number, value: Local, at: Local) => Code;
  slopeAdded: (law: number, slope: Local) => Code;
  /** Ohms before its junction, where it may have some. */
  ohms: (law: number) => Code | undefined;
  /** Volts over which it bends, as a factor: 1/width. */
  perWidth: (law: number) => Code;
  /** Sets `result`, where a step wants to go, to where it may. */
  limited: (law: number, from: Code, result: Local) => Code;
}>;

/**
 * @param parameters where the laws' parameters begin in the memory, in doubles
 * @param spare one more local to write over
 */
export function tableLawCode(
  laws: readonly TableLaw[],
  parameters: number,
  scratch: Scratch,
  spare: Local,
): TableLawCode {
  const parameterOf =
    (law: number): Parameter =>
    (index) =>
      wasm.load(wasm.i32(0), 8 * (parameters + parametersPerLaw * law + index));
  const {z, e, rest, bits} = scratch;
  /** Two junctions back to back, by one exponential: straight beyond `diodeRange` as one alone is. */
  const pair = (law: number, at: Local, value: Local, slope: Local): Code => [
    ...set(z, abs(mul(get(at), parameterOf(law)(0)))),
    ...set(value, add(f64(1), max(f64(0), sub(get(z), f64(diodeRange[1]))))),
    ...set(z, min(get(z), f64(diodeRange[1]))),
    ...exponential(z, e, rest, bits),
    ...set(spare, div(f64(1), get(e))),
    ...set(slope, mul(add(get(e), get(spare)), parameterOf(law)(2))),
    ...set(value, mul(sub(mul(get(e), get(value)), get(spare)), parameterOf(law)(1))),
    ...either(wasm.less(get(at), f64(0)), set(value, wasm.neg(get(value)))),
  ];
  return {
    look: (law, at, value, slope) =>
      laws[law]!.members.length > 1
        ? pair(law, at, value, slope)
        : lawAt(laws[law]!.law.kind, parameterOf(law), at, value, slope, scratch),
    added(law, value, at) {
      const parameter = parameterOf(law);
      if (laws[law]!.tangent === 0) return get(value);
      return add(mul(parameter(6), get(value)), add(mul(parameter(7), get(at)), parameter(8)));
    },
    slopeAdded: (law, slope) =>
      laws[law]!.tangent === 0 ? get(slope) : add(mul(parameterOf(law)(6), get(slope)), parameterOf(law)(7)),
    ohms: (law) =>
      laws[law]!.law.kind === "diode" && laws[law]!.members.length === 1 ? parameterOf(law)(5) : undefined,
    perWidth: (law) => parameterOf(law)(0),
    limited(law, from, result) {
      const {law: each, members} = laws[law]!;
      if (each.kind !== "diode" && each.kind !== "clamp") return [];
      const [width, critical] = [parameterOf(law)(3), parameterOf(law)(4)];
      const [, steepest] = each.kind === "diode" ? diodeRange : clampRange;
      return either(
        greater(abs(sub(get(result), from)), mul(f64(2), width)),
        set(result, wasm.call(members.length > 1 ? 1 : 0, from, get(result), width, critical, f64(steepest))),
      );
    },
  };
}
