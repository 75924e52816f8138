import {partNamed, valued, valueOf} from "../circuit/changes.ts";
import {circuit, type Circuit} from "../circuit/circuit.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import {seededNoise} from "../sound/seeded-noise.ts";
import {sensitivities} from "./sensitivity.ts";

/** How far a part may be from its marked value, as a share: 0.05 is ±5 %. Parts that neither table names are exact. */
export type Tolerances = Readonly<{
  byKind?: Readonly<Partial<Record<Part["kind"], number>>>;
  byRef?: Readonly<Record<string, number>>;
}>;

/** What is sold over the counter: common practice, no published source; pots: tests/reference/published/12, from memory. */
export const usualTolerances: Tolerances = {
  byKind: {resistor: 0.05, capacitor: 0.1, "variable resistor": 0.2, potentiometer: 0.2, inductor: 0.1},
};

/** Anything that a circuit's figures can be boiled down to: gains in decibels at some frequencies, corners in hertz, … */
export type Measure = (whole: Circuit) => ArrayLike<number>;

/** Lowest and highest of each figure, and the figure with every part as marked. */
export type WorstCase = Readonly<{lowest: Float64Array; nominal: Float64Array; highest: Float64Array}>;

/** Figures that 5 %, half and 95 % of the built circuits stay under. */
export type Bands = Readonly<{low: Float64Array; middle: Float64Array; high: Float64Array}>;

/**
 * Extremes of every figure with each part at either end of its tolerance.
 *
 * Up to ten parts all combinations are tried, which is exact if the figures have no extreme inside. With more, each part is
 * moved alone to tell which way it pulls a figure, and all are then moved that way together: exact if no part changes its pull.
 *
 * @throws {RangeError} if a tolerance is not from 0 to under 1
 */
export function worstCase(whole: Circuit, tolerances: Tolerances, measure: Measure): WorstCase {
  const loose = looseParts(whole, tolerances);
  const nominal = Float64Array.from(measure(whole));
  const lowest = Float64Array.from(nominal);
  const highest = Float64Array.from(nominal);
  const take = (signs: readonly number[]): Float64Array => {
    const figures = Float64Array.from(measure(moved(whole, loose, signs)));
    figures.forEach((figure, k) => {
      lowest[k] = Math.min(lowest[k] ?? figure, figure);
      highest[k] = Math.max(highest[k] ?? figure, figure);
    });
    return figures;
  };
  if (loose.length <= 10) {
    for (let corner = 0; corner < 2 ** loose.length; corner++) take(loose.map((_, k) => ((corner >> k) & 1 ? 1 : -1)));
    return {lowest, nominal, highest};
  }
  const pulls = loose.map((_, moving) => {
    const [up, down] = [1, -1].map((sign) => take(loose.map((__, k) => (k === moving ? sign : 0))));
    return nominal.map((__, k) => Math.sign((up?.[k] ?? 0) - (down?.[k] ?? 0)));
  });
  const patterns = new Map<string, readonly number[]>();
  nominal.forEach((_, k) => {
    for (const side of [1, -1]) {
      const signs = pulls.map((pull) => side * (pull[k] ?? 0));
      patterns.set(signs.join(), signs);
    }
  });
  for (const signs of patterns.values()) take(signs);
  return {lowest, nominal, highest};
}

/**
 * Bands that the figures of many built circuits fall in, each part drawn evenly from its tolerance.
 *
 * @param options.runs circuits built: 400 by default, which puts the 5 % line within about 2 % of its place
 * @param options.seed the same seed gives the same circuits; 1 by default
 */
export function monteCarlo(
  whole: Circuit,
  tolerances: Tolerances,
  measure: Measure,
  {runs = 400, seed = 1}: Readonly<{runs?: number; seed?: number}> = {},
): Bands {
  if (!(Number.isInteger(runs) && runs >= 20)) throw new RangeError(`bands need 20 or more circuits, got ${runs}`);
  const loose = looseParts(whole, tolerances);
  const draw = seededNoise(seed);
  const built = Array.from({length: runs}, () => Float64Array.from(measure(moved(whole, loose, loose.map(draw)))));
  const count = built[0]?.length ?? 0;
  const bands = {low: new Float64Array(count), middle: new Float64Array(count), high: new Float64Array(count)};
  for (let k = 0; k < count; k++) {
    const row = Float64Array.from(built, (figures) => figures[k] ?? Number.NaN).sort();
    bands.low[k] = percentile(row, 0.05);
    bands.middle[k] = percentile(row, 0.5);
    bands.high[k] = percentile(row, 0.95);
  }
  return bands;
}

/** What a part's tolerance does to the gain: decibels either way at the frequency where it does most, and its share of the spread. */
export type Payoff = Readonly<{ref: string; tolerance: number; decibels: number; frequencyHz: number; share: number}>;

/**
 * Which part pays for being bought better: the parts by their share of the variance of the gain over the frequencies, the largest
 * first. To first order, from exact sensitivities; parts are taken to vary independently and evenly.
 */
export function whichPartPays(
  whole: Circuit,
  output: NodeName,
  frequenciesHz: Float64Array,
  tolerances: Tolerances = usualTolerances,
): readonly Payoff[] {
  const rows = sensitivities(whole, output, frequenciesHz).filter(({quantity}) => quantity === "value");
  const spreads = looseParts(whole, tolerances).flatMap(({ref, tolerance}) => {
    const gain = rows.find((row) => row.ref === ref)?.gain;
    if (gain === undefined) return [];
    const most = gain.reduce((best, value, k) => (Math.abs(value) > Math.abs(gain[best] ?? 0) ? k : best), 0);
    const decibels = decibelsPerNeper * Math.abs(gain[most] ?? 0) * tolerance;
    const variance = gain.reduce((sum, value) => sum + (value * tolerance) ** 2, 0);
    return [{ref, tolerance, decibels, frequencyHz: frequenciesHz[most] ?? Number.NaN, variance}];
  });
  const total = spreads.reduce((sum, {variance}) => sum + variance, 0);
  return spreads
    .map(({variance, ...row}) => ({...row, share: total > 0 ? variance / total : 0}))
    .sort((a, b) => b.share - a.share);
}

const decibelsPerNeper = 20 / Math.LN10;

type LoosePart = Readonly<{ref: string; tolerance: number; value: number}>;

function looseParts({parts}: Circuit, {byKind = {}, byRef = {}}: Tolerances): readonly LoosePart[] {
  for (const ref of Object.keys(byRef)) partNamed({parts, nodes: []}, ref);
  return parts.flatMap((part) => {
    const tolerance = byRef[part.ref] ?? byKind[part.kind] ?? 0;
    if (!(tolerance >= 0 && tolerance < 1))
      throw new RangeError(`${part.ref}: a tolerance must be from 0 to under 1, got ${tolerance}`);
    const value = valueOf(part);
    return tolerance === 0 || value === undefined ? [] : [{ref: part.ref, tolerance, value}];
  });
}

function moved(whole: Circuit, loose: readonly LoosePart[], shares: readonly number[]): Circuit {
  const values = new Map(loose.map(({ref, tolerance, value}, k) => [ref, value * (1 + tolerance * (shares[k] ?? 0))]));
  return circuit(
    whole.parts.map((part) => {
      const value = values.get(part.ref);
      return value === undefined ? part : valued(part, value);
    }),
  );
}

/** Straight line between the two nearest of a sorted row. */
function percentile(sorted: Float64Array, share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const [a, b] = [sorted[below] ?? Number.NaN, sorted[Math.min(below + 1, sorted.length - 1)] ?? Number.NaN];
  return a === b ? a : a + (place - below) * (b - a);
}
