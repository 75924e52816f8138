import {
  clampRange,
  diodeRange,
  junctionOf,
  limitedJunction,
  slewSeriesBelow,
  type Law,
} from "../analysis/nonlinearities.ts";
import type {PlacedLaw} from "./step-model.ts";

/**
 * A placed law as a stepper works with it: what stays while a model is in use, worked out beforehand, and where the law stands.
 *
 * A diode is read at its junction, p + ohms·f(p) = u, so that no step has to solve for the current through its own resistance.
 * f has the law's weight in it. Where the linear part took a slope, f(p)·perValue + perVolt·p + offset counts, else f(p) alone.
 */
export type LawAtWork = {
  readonly port: number;
  readonly sign: 1 | -1;
  readonly column: number;
  readonly weight: 1 | -1;
  readonly shape: "exponential" | "slew" | "supply";
  /** An exponential: scale·e^z − base, z = p·perWidth; straight above `steepest`. */
  readonly perWidth: number;
  readonly scale: number;
  readonly base: number;
  readonly steepest: number;
  readonly width: number;
  readonly critical: number;
  /** Volts below which the law is as good as gone: its value steady, no slope. */
  readonly goneBelow: number;
  /** Whether a step leaves it out: until one ends above. */
  asleep: boolean;
  /** A step up to which `readBend` holds to the last digits, and where such a step could end beyond `steepest`. */
  readonly near: number;
  readonly straightFrom: number;
  /** Volts that a diode's own resistance takes for each ampere of f. */
  readonly ohms: number;
  readonly perValue: number;
  readonly perVolt: number;
  readonly offset: number;
  /** What each column does to the law's voltage, its sign in it, at least three; the first three beside it. */
  readonly pulls: Float64Array;
  pull0: number;
  pull1: number;
  pull2: number;
  /** Voltage at the law that memory and input make. */
  drive: number;
  /** Where the law stands, f and its slope there. */
  point: number;
  value: number;
  slope: number;
  /** Share of a change of u that arrives at p: 1/(1 + ohms·slope). */
  share: number;
  /** What a change of u adds to the column. */
  give: number;
  /** Voltage that p wants and does not have. */
  wants: number;
  /** Last step of p, and what f has beyond its tangent there. */
  step: number;
  bend: number;
};

/** A law of a model with so many columns, at 0 V, nothing pulling at it yet. */
export function lawAtWork(placed: PlacedLaw, columns: number): LawAtWork {
  const {law, port, sign, column, weight, tangent, shift} = placed;
  const ohms = junctionOhms(placed);
  const {shape, perWidth, scale, base, lowest, steepest, width, critical} = shapeOf(law);
  // One literal, every field in its place from the start: laws of one form are what an engine makes quick code for.
  return {
    port,
    sign,
    column,
    weight,
    shape,
    perWidth,
    scale: weight * scale,
    base: weight * base,
    steepest,
    width,
    critical,
    goneBelow: lowest / perWidth,
    asleep: false,
    near: nearWidths[law.kind] / perWidth,
    straightFrom: (steepest - 0.02) / perWidth,
    ohms: weight * ohms,
    perValue: 1 - tangent * ohms,
    perVolt: -weight * tangent,
    offset: weight * tangent * shift,
    pulls: new Float64Array(Math.max(3, columns)),
    pull0: 0,
    pull1: 0,
    pull2: 0,
    drive: 0,
    point: 0,
    value: 0,
    slope: 0,
    share: 1,
    give: 0,
    wants: 0,
    step: 0,
    bend: 0,
  };
}

/** Ohms between a diode's terminals and its junction, whether they are the law's own or stand apart. */
export function junctionOhms({law, drop}: PlacedLaw): number {
  return law.kind === "diode" ? drop + law.inSeries * law.model.seriesOhms : 0;
}

/** Widths of a step whose series leaves under 1e-11 of a width. */
const nearWidths = {diode: 0.02, clamp: 0.02, slew: 0.003, supply: 0} as const;

/** Before the weight is in it; `lowest` in widths, as `steepest` is. */
type Shape = Pick<LawAtWork, "shape" | "perWidth" | "scale" | "base" | "steepest" | "width" | "critical"> &
  Readonly<{lowest: number}>;

function shapeOf(law: Law): Shape {
  const straight = {base: 0, lowest: -Infinity, steepest: Infinity, width: 1, critical: Infinity};
  switch (law.kind) {
    case "slew":
      return {shape: "slew", perWidth: 1 / law.volts, scale: law.volts, ...straight};
    case "supply":
      return {shape: "supply", perWidth: 1, scale: law.amperes, ...straight};
    case "diode":
    case "clamp": {
      const diode = law.kind === "diode";
      const {width, critical} = junctionOf(law);
      const [lowest, steepest] = diode ? diodeRange : clampRange;
      const scale = diode ? law.model.saturationCurrent : law.sign * law.scale;
      return {
        shape: "exponential",
        perWidth: 1 / width,
        scale,
        base: diode ? scale : 0,
        lowest,
        steepest,
        width,
        critical,
      };
    }
  }
}

// No number is handed to these or back: where an engine makes a call of one, it would put every such number on its heap.

/** Sets value and slope of a law to those of its junction where it stands, as `evaluate` has them. */
export function read(law: LawAtWork): void {
  const {scale, perWidth} = law;
  const z = law.point * perWidth;
  if (law.shape !== "exponential") readTanh(law);
  else if (law.point < law.goneBelow) {
    law.value = -law.base;
    law.slope = 0;
  } else {
    // How far the straight line beyond the steepest point has risen.
    const beyond = z > law.steepest ? z - law.steepest : 0;
    const e = scale * Math.exp(z - beyond);
    law.value = e + e * beyond - law.base;
    law.slope = e * perWidth;
  }
}

function readTanh(law: LawAtWork): void {
  const {point, scale, weight} = law;
  const z = point * law.perWidth;
  if (law.shape === "slew" && Math.abs(z) < slewSeriesBelow) {
    const square = z * z;
    law.value = scale * z * square * (1 / 3 - square * (2 / 15 - square * (17 / 315)));
    law.slope = weight * square * (1 - square * (2 / 3 - square * (17 / 45)));
    return;
  }
  // By the exponential, which takes half the time of Math.tanh.
  const tanh = 1 - 2 / (Math.exp(2 * z) + 1);
  if (law.shape === "slew") {
    law.value = weight * point - scale * tanh;
    law.slope = weight * tanh * tanh;
  } else {
    law.value = scale * (tanh - 1);
    law.slope = scale * (1 - tanh * tanh);
  }
}

/** Sets `bend` to what f has after a step from where it was read beyond its tangent, by its series. */
export function readBend(law: LawAtWork): void {
  const {slope} = law;
  const x = law.step * law.perWidth;
  if (law.shape === "exponential") {
    law.bend = slope * law.width * x * x * (1 / 2 + x * (1 / 6 + x * (1 / 24 + x * (1 / 120))));
    return;
  }
  // u − tanh u: tanh² is the slope, and so are its derivatives told by it.
  const square = Math.abs(slope);
  const tanh = law.point > 0 ? Math.sqrt(square) : -Math.sqrt(square);
  law.bend = law.scale * x * x * (1 - square) * (tanh + x * (1 / 3 - square));
}

/** What a law adds to its column where it was last read. */
export function added(law: LawAtWork): number {
  return law.perVolt === 0 ? law.value : law.perValue * law.value + law.perVolt * law.point + law.offset;
}

/** The slope of that over the junction's voltage. */
export function slopeAdded(law: LawAtWork): number {
  return law.perVolt === 0 ? law.slope : law.perValue * law.slope + law.perVolt;
}

/** Puts a law at `to`, or as far from `from` towards it as `limited` lets it go. */
export function move(law: LawAtWork, from: number, to: number): void {
  law.point = to;
  if (to > law.critical && Math.abs(to - from) > 2 * law.width) holdBack(law, from);
}

function holdBack(law: LawAtWork, from: number): void {
  law.point = heldBack(from, law.point, law.width, law.critical, law.steepest);
}

/** Where a step too long for a junction ends; but where both ends lie beyond `steepest` widths, the law is straight and any step good. */
export function heldBack(from: number, to: number, width: number, critical: number, steepest: number): number {
  return Math.min(from, to) > steepest * width ? to : limitedJunction(from, to, width, critical);
}
