import {clampRange, diodeRange, junctionOf, slewSeriesBelow, type Law} from "../../analysis/nonlinearities.ts";
import {junctionOhms} from "../law-at-work.ts";
import type {PlacedLaw} from "../step-model.ts";
import {exponential} from "./emit-exponential.ts";
import {parametersPerLaw} from "./layout.ts";
import * as wasm from "./wasm-code.ts";
import type {Code, Local} from "./wasm-code.ts";

const {abs, add, atMost, call, div, either, f64, get, less, max, min, mul, neg, set, sub} = wasm;

/** Locals that a law may write over. */
export type Scratch = Readonly<{z: Local; e: Local; rest: Local; bits: Local}>;

/** Code that reads parameter `index` of a law. */
export type Parameter = (index: number) => Code;

/**
 * What a law keeps in the memory: scale of its argument, of its value, of its slope; width and critical voltage; the ohms behind its
 * junction; and where the linear part took a slope of it, what is left of its value, of its voltage, and what stays whatever it does.
 */
export function lawParameters(placed: PlacedLaw): Float64Array {
  const {law, tangent, shift} = placed;
  const all = new Float64Array(parametersPerLaw);
  const ohms = junctionOhms(placed);
  all.set([ohms, 1 - tangent * ohms, -tangent, tangent * shift], 5);
  switch (law.kind) {
    case "diode": {
      const {width, critical} = junctionOf(law);
      const {saturationCurrent: Is} = law.model;
      all.set([1 / width, Is, Is / width, width, critical]);
      break;
    }
    case "clamp": {
      const {width, critical} = junctionOf(law);
      const scale = law.sign * law.scale;
      all.set([1 / width, scale, scale / width, width, critical]);
      break;
    }
    case "slew":
      all.set([1 / law.volts, law.volts]);
      break;
    case "supply":
      all.set([1, law.amperes]);
  }
  return all;
}

/** Sets `value` and `slope` to those of the law at `at`, as `evaluate` has them. */
export function lawAt(
  kind: Law["kind"],
  parameter: Parameter,
  at: Local,
  value: Local,
  slope: Local,
  {z, e, rest, bits}: Scratch,
): Code {
  const one = f64(1);
  const scaled = set(z, mul(get(at), parameter(0)));
  const give = (v: Code, s: Code): Code => [...set(value, v), ...set(slope, s)];
  const tanh = [
    // 1 − 2/(e^2x + 1), beyond ±20 the double next to ±1.
    ...set(z, mul(f64(2), max(f64(-20), min(f64(20), get(z))))),
    ...exponential(z, e, rest, bits),
    ...set(e, sub(one, div(f64(2), add(get(e), one)))),
  ];
  switch (kind) {
    case "diode":
    case "clamp": {
      const [lowest, steepest] = kind === "diode" ? diodeRange : clampRange;
      const base = kind === "diode" ? one : f64(0);
      return [
        ...scaled,
        ...either(less(get(z), f64(lowest)), give(kind === "diode" ? neg(parameter(1)) : f64(0), f64(0)), [
          // How far the straight line beyond the steepest point has risen.
          ...set(value, add(one, max(f64(0), sub(get(z), f64(steepest))))),
          ...set(z, min(get(z), f64(steepest))),
          ...exponential(z, e, rest, bits),
          ...give(mul(sub(mul(get(e), get(value)), base), parameter(1)), mul(get(e), parameter(2))),
        ]),
      ];
    }
    case "slew": {
      const square = get(rest);
      const series = (a: number, b: number, c: number): Code =>
        sub(f64(a), mul(square, sub(f64(b), mul(square, f64(c)))));
      return [
        ...scaled,
        ...either(
          less(abs(get(z)), f64(slewSeriesBelow)),
          [
            ...set(rest, mul(get(z), get(z))),
            ...give(
              mul(mul(parameter(1), mul(get(z), square)), series(1 / 3, 2 / 15, 17 / 315)),
              mul(square, series(1, 2 / 3, 17 / 45)),
            ),
          ],
          [...tanh, ...give(sub(get(at), mul(parameter(1), get(e))), mul(get(e), get(e)))],
        ),
      ];
    }
    case "supply":
      return [
        ...scaled,
        ...tanh,
        ...give(mul(parameter(1), sub(get(e), one)), mul(parameter(1), sub(one, mul(get(e), get(e))))),
      ];
  }
}

/**
 * Sets `result` to where a step from `from` to `to` may go, as `move` has it: the rare step that must be cut is left to the
 * function of index `limit`.
 */
export function limitedStep(
  kind: Law["kind"],
  parameter: Parameter,
  from: Local,
  to: Code,
  result: Local,
  limit: number,
): Code {
  if (kind === "slew" || kind === "supply") return set(result, to);
  const [, steepest] = kind === "diode" ? diodeRange : clampRange;
  return [
    ...set(result, to),
    ...either(
      atMost(get(result), parameter(4)),
      [],
      either(
        atMost(abs(sub(get(result), get(from))), mul(f64(2), parameter(3))),
        [],
        set(result, call(limit, get(from), get(result), parameter(3), parameter(4), f64(steepest))),
      ),
    ),
  ];
}
