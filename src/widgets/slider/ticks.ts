import type {Control} from "../../engine/course/course-circuit.ts";

/** A tick under a row of stops: where, from 0 to 1, and whether it is a long one. */
export type Tick = Readonly<{place: number; long: boolean}>;

/** Ticks of a control: every stop while they are few, and a long one at each power of ten; else the powers of ten alone. */
export function ticksOf({values, kind}: Control): readonly Tick[] {
  const last = values.length - 1;
  const isDecade = (value: number) =>
    kind === "part value" && Math.abs(Math.log10(value) - Math.round(Math.log10(value))) < 1e-6;
  return values
    .map((value, index) => ({place: Number((index / last).toFixed(4)), long: isDecade(value)}))
    .filter(({long}) => long || last <= 50);
}
