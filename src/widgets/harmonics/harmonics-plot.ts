import {formatQuantity} from "../../engine/quantities/format-quantity.ts";

/** Peaks of the harmonics in volts: [0] the steady part, [1] the fundamental, and so on. */
export type HarmonicPeaks = Float64Array;

export type HarmonicsPlotOptions = Readonly<{
  document: Document;
  /** The state before, drawn as a dashed step behind each bar. */
  before?: HarmonicPeaks;
  size: Readonly<{width: number; height: number; compact: boolean}>;
}>;

/** Level of a harmonic under the fundamental at which a bar has no height left, in decibels: what a bench can tell. */
export const floorDb = -80;

const svg = "http://www.w3.org/2000/svg";

/** Level of harmonic `n` against the fundamental in decibels; the floor where it is lower, or there is no fundamental. */
export function levelDb(peaks: HarmonicPeaks, n: number): number {
  const ratio = (peaks[n] ?? 0) / (peaks[1] ?? 0);
  return ratio > 0 && Number.isFinite(ratio) ? Math.max(floorDb, 20 * Math.log10(ratio)) : floorDb;
}

/**
 * Bars of the harmonics over the fundamental's level, 1 to the last given; odd ones filled, even ones hollow and hatched,
 * so that they differ without colour.
 */
export function harmonicsPlot(peaks: HarmonicPeaks, {document, before, size}: HarmonicsPlotOptions): SVGSVGElement {
  const {width, height, compact} = size;
  const count = peaks.length - 1;
  const [left, right, top, bottom] = [compact ? 30 : 40, width - 8, 12, height - (compact ? 22 : 30)];
  const highDb = Math.max(0, ...Array.from({length: count}, (_, k) => levelDb(peaks, k + 1)));
  const y = (db: number) => bottom - ((db - floorDb) / (highDb - floorDb)) * (bottom - top);
  const slot = (right - left) / count;
  const root = document.createElementNS(svg, "svg");
  const add = (tag: string, attributes: Readonly<Record<string, string>>, words = ""): void => {
    const element = document.createElementNS(svg, tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    element.textContent = words;
    root.append(element);
  };
  root.setAttribute("viewBox", `0 0 ${width} ${height}`);
  root.setAttribute("role", "img");
  root.setAttribute("aria-label", harmonicsSummary(peaks));
  for (let db = floorDb; db <= highDb; db += 20) {
    add("line", {x1: pixels(left), x2: pixels(right), y1: pixels(y(db)), y2: pixels(y(db)), class: "grid"});
    if (!compact || db % 40 === 0)
      add("text", {x: pixels(left - 6), y: pixels(y(db)), class: "tick", "text-anchor": "end"}, minus(db));
  }
  for (let n = 1; n <= count; n++) {
    const [x, db] = [left + (n - 1) * slot, levelDb(peaks, n)];
    const box = {
      x: pixels(x + slot * 0.2),
      y: pixels(y(db)),
      width: pixels(slot * 0.6),
      height: pixels(bottom - y(db)),
    };
    add("rect", {...box, class: n % 2 === 0 ? "even" : "odd", "data-harmonic": String(n)});
    if (n % 2 === 0) for (let at = y(db) + 4; at < bottom; at += 4) add("line", hatch(x + slot * 0.2, slot * 0.6, at));
    if (before) {
      const old = pixels(y(levelDb(before, n)));
      add("line", {x1: pixels(x + slot * 0.05), x2: pixels(x + slot * 0.95), y1: old, y2: old, class: "before"});
    }
    if (n === 1 || n % (compact ? 5 : 2) === (compact ? 0 : 1))
      add("text", {x: pixels(x + slot / 2), y: pixels(bottom + 14), class: "tick", "text-anchor": "middle"}, String(n));
  }
  return root;
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

const hatch = (x: number, width: number, y: number) => ({
  x1: pixels(x),
  x2: pixels(x + width),
  y1: pixels(y),
  y2: pixels(y),
  class: "hatch",
});
const ordinal = (n: number) => (n > 3 && n < 21 ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th"));
const pixels = (place: number) => place.toFixed(1);
const minus = (db: number) => String(db).replace("-", "\u2212");
