/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {
  diodeRange,
  evaluate,
  junctionOf,
  limitedJunction,
  type Law,
  type LawPoint,
} from "../analysis/nonlinearities.ts";
import type {PlacedLaw} from "./step-model.ts";

/** Laws of one stage for many looks at them: where they stand, and their values and slopes there, stage by stage. */
export type LawTable = Readonly<{
  /** Of one stage; two equal diodes back to back are one. */
  laws: readonly TableLaw[];
  /** Writes values and slopes of all laws of all stages at `points`. */
  look: (points: Float64Array, value: Float64Array, slope: Float64Array) => void;
  /** Where a step from one point of law `k` to another may end. */
  limited: (k: number, from: number, to: number) => number;
  /** Volts over which each law bends. */
  widths: Float64Array;
}>;

/** A law, or two that are read at a voltage and its opposite, with opposite effect: i = f(u) − f(−u). */
export type TableLaw = PlacedLaw & Readonly<{members: readonly number[]}>;

/** Values and slopes of the laws of a step with `stages`. */
export function lawTable(placed: readonly PlacedLaw[], stages: number): LawTable {
  const laws = paired(placed);
  const m = laws.length;
  const widths = Float64Array.from(laws, ({law}) => widthOf(law));
  const critical = Float64Array.from(laws, ({law}) =>
    law.kind === "diode" || law.kind === "clamp" ? junctionOf(law).critical : Infinity,
  );
  // 1: one junction, 2: two back to back, 0: any other law.
  const form = Int32Array.from(laws, ({law, members}) =>
    law.kind !== "diode" || law.model.seriesOhms > 0 ? 0 : members.length,
  );
  const current = Float64Array.from(laws, ({law}) => (law.kind === "diode" ? law.model.saturationCurrent : 0));
  const perWidth = widths.map((width) => 1 / width);
  const tangent = Float64Array.from(laws, (each) => each.tangent);
  const shift = Float64Array.from(laws, (each) => each.shift);
  const steepest = diodeRange[1];
  const point: LawPoint = {value: 0, slope: 0};

  const look = (points: Float64Array, value: Float64Array, slope: Float64Array): void => {
    for (let stage = 0, k = 0; stage < stages; stage++) {
      for (let j = 0; j < m; j++, k++) {
        const u = points[k]!;
        const x = u * perWidth[j]!;
        if (form[j] !== 0 && x < steepest && x > -steepest) {
          // A junction's 1 is below what a double tells of a sum of currents only where no current flows: exp(x) − 1 is near enough.
          const e = Math.exp(x);
          const is = current[j]!;
          if (form[j] === 1) {
            value[k] = is * (e - 1);
            slope[k] = is * e * perWidth[j]!;
          } else {
            const back = 1 / e;
            value[k] = is * (e - back);
            slope[k] = is * (e + back) * perWidth[j]!;
          }
        } else {
          const {law, members} = laws[j]!;
          evaluate(law, u, point);
          let f = point.value;
          let d = point.slope;
          if (members.length > 1) {
            evaluate(law, -u, point);
            f -= point.value;
            d += point.slope;
          }
          value[k] = f;
          slope[k] = d;
        }
        if (tangent[j] !== 0) {
          value[k]! -= tangent[j]! * (u - shift[j]!);
          slope[k]! -= tangent[j]!;
        }
      }
    }
  };
  const limited = (k: number, from: number, to: number): number => {
    const width = widths[k]!;
    const most = critical[k]!;
    if (!(Math.abs(to - from) > 2 * width)) return to;
    if (laws[k]!.members.length > 1 && to < 0) return -(-to > most ? limitedJunction(-from, -to, width, most) : -to);
    return to > most ? limitedJunction(from, to, width, most) : to;
  };
  return {laws, look, limited, widths};
}

function widthOf(law: Law): number {
  if (law.kind === "diode" || law.kind === "clamp") return junctionOf(law).width;
  return law.kind === "slew" ? law.volts / 2 : 1;
}

/** Equal diodes back to back, and without a resistance of their own each, are read as one law. */
function paired(placed: readonly PlacedLaw[]): readonly TableLaw[] {
  const laws: TableLaw[] = [];
  placed.forEach((each, at) => {
    const other = laws.findIndex((law) => law.members.length === 1 && backToBack(law, each));
    const found = laws[other];
    if (found) laws[other] = {...found, members: [...found.members, at]};
    else laws.push({...each, members: [at]});
  });
  return laws;
}

function backToBack(a: PlacedLaw, b: PlacedLaw): boolean {
  if (a.law.kind !== "diode" || b.law.kind !== "diode") return false;
  const [one, two] = [a.law.model, b.law.model];
  return (
    one.saturationCurrent === two.saturationCurrent &&
    one.emissionCoefficient === two.emissionCoefficient &&
    one.thermalVoltage === two.thermalVoltage &&
    one.seriesOhms === 0 &&
    two.seriesOhms === 0 &&
    a.law.inSeries === b.law.inSeries &&
    [a.drop, b.drop, a.tangent, b.tangent].every((value) => value === 0) &&
    a.port === b.port &&
    a.column === b.column &&
    a.sign === -b.sign &&
    a.weight === -b.weight
  );
}
