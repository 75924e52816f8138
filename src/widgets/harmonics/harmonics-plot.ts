import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {shape, type Shape, type Sketch} from "../sketch/sketch.ts";

/** Peaks of the harmonics in volts: [0] the steady part, [1] the fundamental, and so on. */
export type HarmonicPeaks = Float64Array;

export type HarmonicsPlotOptions = Readonly<{
  /** The state before, drawn as a dashed step behind each bar. */
  before?: HarmonicPeaks;
  size: Readonly<{width: number; height: number; compact: boolean}>;
}>;

/** Level of a harmonic under the fundamental at which a bar has no height left, in decibels: what a bench can tell. */
export const floorDb = -80;

/** Level of harmonic `n` against the fundamental in decibels; the floor where it is lower, or there is no fundamental. */
export function levelDb(peaks: HarmonicPeaks, n: number): number {
  const ratio = (peaks[n] ?? 0) / (peaks[1] ?? 0);
  return ratio > 0 && Number.isFinite(ratio) ? Math.max(floorDb, 20 * Math.log10(ratio)) : floorDb;
}

/**
 * Bars of the harmonics over the fundamental's level, 1 to the last given; odd ones filled, even ones hollow and hatched,
 * so that they differ without colour.
 */
export function harmonicsPlot(peaks: HarmonicPeaks, {before, size}: HarmonicsPlotOptions): Sketch {
  const {width, height, compact} = size;
  const count = peaks.length - 1;
  const [left, right, top, bottom] = [compact ? 30 : 40, width - 8, 12, height - (compact ? 22 : 30)];
  const highDb = Math.max(0, ...Array.from({length: count}, (_, k) => levelDb(peaks, k + 1)));
  const y = (db: number) => bottom - ((db - floorDb) / (highDb - floorDb)) * (bottom - top);
  const slot = (right - left) / count;
  const fixed: Shape[] = [];
  for (let db = floorDb; db <= highDb; db += 20) {
    fixed.push(shape("line", {x1: left, x2: right, y1: y(db), y2: y(db), class: "grid"}));
    if (!compact || db % 40 === 0)
      fixed.push(shape("text", {x: left - 6, y: y(db), class: "tick", "text-anchor": "end"}, minus(db)));
  }
  for (let n = 1; n <= count; n++) {
    if (n !== 1 && n % (compact ? 5 : 2) !== (compact ? 0 : 1)) continue;
    const at = {x: left + (n - 0.5) * slot, y: bottom + 14, class: "tick", "text-anchor": "middle"};
    fixed.push(shape("text", at, String(n)));
  }
  const bars = Array.from({length: count}, (_, k): readonly Shape[] => {
    const [n, x, db] = [k + 1, left + (k + 0.2) * slot, levelDb(peaks, k + 1)];
    const box = {x, y: y(db), width: slot * 0.6, height: bottom - y(db)};
    const bar = shape("rect", {...box, class: n % 2 === 0 ? "even" : "odd", "data-harmonic": String(n)});
    if (n % 2 === 1) return [bar];
    const lines = Array.from({length: Math.max(0, Math.ceil((bottom - y(db)) / 4) - 1)}, (_, line) => {
      return `M${x.toFixed(1)} ${(y(db) + 4 * (line + 1)).toFixed(1)}h${(slot * 0.6).toFixed(1)}`;
    });
    return [bar, shape("path", {d: lines.join(""), class: "hatch"})];
  }).flat();
  const steps = Array.from({length: count}, (_, k) => {
    const old = y(levelDb(before ?? peaks, k + 1));
    return shape("line", {
      x1: left + (k + 0.05) * slot,
      x2: left + (k + 0.95) * slot,
      y1: old,
      y2: old,
      class: "before",
    });
  });
  return {
    ...{width, height, name: harmonicsSummary(peaks), axes: `${count} to ${highDb.toFixed(1)} dB`, fixed},
    moving: [...bars, ...(before ? steps : [])],
  };
}

/** The harmonics in one sentence: the strongest even and the strongest odd one above the fundamental. */
export function harmonicsSummary(peaks: HarmonicPeaks): string {
  if (!((peaks[1] ?? 0) > 0)) return "There is no fundamental.";
  const strongest = (first: number) => {
    let best = first;
    for (let n = first; n < peaks.length; n += 2) if ((peaks[n] ?? 0) > (peaks[best] ?? 0)) best = n;
    const db = levelDb(peaks, best);
    return db <= floorDb
      ? `none above ${formatQuantity(floorDb, "dB")}`
      : `the ${best}${ordinal(best)} at ${formatQuantity(db, "dB")}`;
  };
  return `Against the fundamental: strongest even harmonic, ${strongest(2)}; strongest odd, ${strongest(3)}.`;
}

const ordinal = (n: number) => (n > 3 && n < 21 ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th"));
const minus = (db: number) => String(db).replace("-", "\u2212");
