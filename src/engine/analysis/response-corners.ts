import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {cornersOf, halfPowerDb, shelfFrom, type Corners, type Shelf} from "./corners.ts";
import {magnitudeDb} from "./complex-array.ts";
import {logFrequencies} from "./frequency-response.ts";
import {responseOf} from "./response-of.ts";

/** Where to look for corners, and from which level to measure them. */
export type CornerSearch = Readonly<{
  /** Ends of the search in hertz: 1 Hz to 1 MHz by default. */
  lowHz?: number;
  highHz?: number;
  /** Level in decibels that −3 dB is measured from: the peak by default. */
  referenceDb?: number;
}>;

/**
 * Peak and −3 dB points of a circuit's response, found by solving the circuit again and again: exact to 1e-9 of the frequency.
 *
 * @throws as `frequencyResponse`
 */
export function responseCorners(circuit: Circuit, output: NodeName, search: CornerSearch = {}): Corners {
  const {gainDbAt, frequencies, sampled} = surveyed(circuit, output, search);
  const rough = cornersOf(frequencies, sampled, search);
  const peak = highest(gainDbAt, rough.peak.frequencyHz / 1.06, rough.peak.frequencyHz * 1.06, frequencies);
  const wanted = (search.referenceDb ?? peak.gainDb) - halfPowerDb;
  const refined = (hz: number | undefined) => hz && crossingNear(gainDbAt, wanted, hz);
  const [low, high] = [refined(rough.low), refined(rough.high)];
  return {...rough, peak, ...(low === undefined ? {} : {low}), ...(high === undefined ? {} : {high})};
}

/**
 * The two corners of a circuit's response between two levels, exact for a first-order shelf.
 *
 * @returns undefined if the response has the same level at both ends of the search
 */
export function responseShelf(circuit: Circuit, output: NodeName, search: CornerSearch = {}): Shelf | undefined {
  const {gainDbAt, frequencies, sampled} = surveyed(circuit, output, search);
  const [lowDb, highDb] = [sampled[0] ?? 0, sampled.at(-1) ?? 0];
  if (!(Math.abs(highDb - lowDb) >= 0.01 && Math.abs(highDb - lowDb) < Infinity)) return undefined;
  const middle = (lowDb + highDb) / 2;
  const k = sampled.findIndex(
    (level, index) => index > 0 && (level - middle) * ((sampled[index - 1] ?? 0) - middle) <= 0,
  );
  if (k < 1) return undefined;
  return shelfFrom(
    lowDb,
    highDb,
    crossingNear(gainDbAt, middle, Math.sqrt((frequencies[k] ?? 1) * (frequencies[k - 1] ?? 1))),
  );
}

const perDecade = 40;

function surveyed(circuit: Circuit, output: NodeName, {lowHz = 1, highHz = 1e6}: CornerSearch) {
  const response = responseOf(circuit, output);
  const frequencies = logFrequencies(lowHz, highHz, Math.max(3, Math.ceil(perDecade * Math.log10(highHz / lowHz)) + 1));
  const gainDbAt = (hz: number): number => magnitudeDb(response(Float64Array.of(hz)))[0] ?? Number.NaN;
  return {gainDbAt, frequencies, sampled: magnitudeDb(response(frequencies))};
}

/** Bisection within a twelfth of a decade of a rough crossing; the rough place itself if the level does not change there. */
function crossingNear(gainDbAt: (hz: number) => number, wanted: number, rough: number): number {
  let [a, b] = [Math.log(rough / 1.07), Math.log(rough * 1.07)];
  const atStart = gainDbAt(Math.exp(a)) > wanted;
  if (gainDbAt(Math.exp(b)) > wanted === atStart) return rough;
  for (let k = 0; k < 60 && b - a > 1e-14; k++) {
    const middle = (a + b) / 2;
    if (gainDbAt(Math.exp(middle)) > wanted === atStart) a = middle;
    else b = middle;
  }
  return Math.exp((a + b) / 2);
}

/** Golden section for the highest point between two frequencies, kept inside the search. */
function highest(gainDbAt: (hz: number) => number, lowHz: number, highHz: number, frequencies: Float64Array) {
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = Math.log(Math.max(lowHz, frequencies[0] ?? lowHz));
  let b = Math.log(Math.min(highHz, frequencies.at(-1) ?? highHz));
  // A maximum is flat: its place is known to the root of the precision of its height, so 40 steps are enough.
  for (let k = 0; k < 40; k++) {
    const [c, d] = [b - golden * (b - a), a + golden * (b - a)];
    if (gainDbAt(Math.exp(c)) >= gainDbAt(Math.exp(d))) b = d;
    else a = c;
  }
  const frequencyHz = Math.exp((a + b) / 2);
  return {frequencyHz, gainDb: gainDbAt(frequencyHz)};
}
