/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import {evaluate, type LawPoint} from "../analysis/nonlinearities.ts";
import {seededNoise} from "../sound/seeded-noise.ts";
import {solveGlobally} from "../solve/global-newton.ts";
import type {PlacedLaw, StepModel} from "./step-model.ts";

/** What searches may still take: so many looks at a law's value, which is where their time goes. */
export type Purse = {looks: number};

/**
 * What sound that plays as it is made may spend on steps that Newton's method does not settle at once: so much in store, and so much
 * more with the time. A look takes 60 ns, in code not yet made quick some 400, so that no search keeps sound waiting for longer than
 * 20 ms. Of 133 hard steps that noise of 20 V made in the course's circuits with any values, 116 were solved within `most`, and none
 * within a thousand; with less than `least` none is looked for.
 */
export const liveLooks = {most: 50_000, least: 5_000, perSecond: 2e6} as const;

/**
 * Solves the laws of one step, p = sign·(drive + K·ψ) − drop·φ, for their points p, from wherever these stand, in place.
 *
 * Each law is read at s = p + ρ·φ(p) instead, ρ what its own port does to it: voltage where it blocks, current where it conducts.
 * Over s neither grows faster than s does, so that no exponential is left to outrun Newton's method, and on a circuit without
 * gain the method arrives from anywhere. Where an op-amp's output feeds its own supply or its other input there may be several
 * solutions, and starts from which none is reached: then others are tried, the near ones first.
 *
 * @param moreStarts how many others are tried, half of them within 2 V of p, half within 20 V: few steps in a million need one
 * @param purse what it may take; what it took is taken off
 * @returns false if no solution was found; p is then as it was
 */
export function hardStep(
  model: Pick<StepModel, "laws" | "K" | "columns">,
  drive: Float64Array,
  p: Float64Array,
  moreStarts = 12,
  purse: Purse = {looks: Infinity},
): boolean {
  const {laws, K, columns} = model;
  const size = laws.length;
  const ownPort = Float64Array.from(laws, (each) => portOhms(each, model));
  const points = Float64Array.from(p);
  const value = new Float64Array(size);
  const slope = new Float64Array(size);
  const sum = new Float64Array(columns);
  const point: LawPoint = {value: 0, slope: 0};

  const evaluateAt = (k: number, volts: number): void => {
    const {law, tangent, shift} = laws[k]!;
    purse.looks--;
    evaluate(law, volts, point);
    point.value -= tangent * (volts - shift);
    point.slope -= tangent;
  };
  /** Points, values and slopes of all laws at s. */
  const stand = (s: Float64Array): void => {
    sum.fill(0);
    for (let k = 0; k < size; k++) {
      const {column, weight} = laws[k]!;
      points[k] = unstretched(s[k]!, ownPort[k]!, points[k]!, point, (volts) => evaluateAt(k, volts));
      evaluateAt(k, points[k]!);
      value[k] = point.value;
      slope[k] = point.slope;
      sum[column]! += weight * point.value;
    }
  };
  const residual = (s: Float64Array, into: Float64Array): void => {
    stand(s);
    for (let k = 0; k < size; k++) {
      const {port, sign, drop} = laws[k]!;
      let volts = drive[port]!;
      for (let j = 0; j < columns; j++) volts += K[port * columns + j]! * sum[j]!;
      into[k] = points[k]! + drop * value[k]! - sign * volts;
    }
  };
  const slopes = (s: Float64Array, into: Float64Array): void => {
    stand(s);
    for (let l = 0; l < size; l++) {
      const other = laws[l]!;
      const perStretch = 1 / (1 + ownPort[l]! * slope[l]!);
      const valuePerStretch = slope[l]! * perStretch;
      for (let k = 0; k < size; k++) {
        const {port, sign, drop} = laws[k]!;
        const own = k === l ? perStretch + drop * valuePerStretch : 0;
        into[k * size + l] = own - sign * K[port * columns + other.column]! * other.weight * valuePerStretch;
      }
    }
  };
  /** A law's value, and how much of it hangs on the last digit of its point: an exponential makes much of little. */
  const lastDigits = (k: number): number => Math.abs(value[k]!) + Math.abs(slope[k]! * points[k]!);
  const terms = (s: Float64Array, into: Float64Array): void => {
    for (let k = 0; k < size; k++) {
      const {port, drop} = laws[k]!;
      let sum = Math.abs(points[k]!) + Math.abs(drop) * lastDigits(k) + Math.abs(drive[port]!) + Math.abs(s[k]!);
      for (let l = 0; l < size; l++) sum += Math.abs(K[port * columns + laws[l]!.column]!) * lastDigits(l);
      into[k] = sum;
    }
  };

  const s = new Float64Array(size);
  const sizes = new Float64Array(size);
  const highest = drive.reduce((most, volts) => Math.max(most, Math.abs(volts)), 1);
  // What a search for a cycle may try is not looked for at any price: no circuit that started from rest gets there.
  if (!(highest < mostVolts)) return false;
  const farthest = 1e6 * highest;
  const draw = seededNoise(1);
  const givenUp = () => purse.looks <= 0;
  for (let start = 0; start <= moreStarts && !givenUp(); start++) {
    const spread = start === 0 ? 0 : start <= moreStarts / 2 ? 2 : 20;
    for (let k = 0; k < size; k++) {
      const from = p[k]! + spread * draw();
      evaluateAt(k, from);
      // Exponentials hold numbers beside which a double has no digits left for the rest; such a start is drawn nearer.
      s[k] = Math.max(-farthest, Math.min(farthest, from + ownPort[k]! * point.value));
    }
    if (!solveGlobally({size, residual, slopes, terms, givenUp}, s)) continue;
    stand(s);
    terms(s, sizes);
    // Where terms are so large that their last digit is a hundredth of all volts, anything balances.
    if (sizes.some((most) => !(Number.EPSILON * most < 0.01 * highest))) continue;
    p.set(points);
    return true;
  }
  return false;
}

/** A drive beyond this is no circuit's, op-amps' open-loop gains included. */
const mostVolts = 1e8;

/** What a law's value does to its own voltage, with a law's sign, such that it opposes; 0 where it would help instead. */
function portOhms(
  {law, port, sign, column, weight, drop, tangent}: PlacedLaw,
  {K, columns}: Pick<StepModel, "K" | "columns">,
): number {
  const own = drop - sign * weight * K[port * columns + column]!;
  const rising = law.kind === "clamp" ? law.sign : 1;
  if (law.kind === "slew") return 0;
  if (!(own * rising > 0)) return 0;
  return tangent === 0 ? own : rising * Math.min(Math.abs(own), 0.5 / Math.abs(tangent));
}

/** The p at which p + ohms·φ(p) = s, near `guess`: the left side rises with p. Newton's method, kept inside where it must lie. */
function unstretched(
  s: number,
  ohms: number,
  guess: number,
  point: LawPoint,
  evaluateAt: (volts: number) => void,
): number {
  if (ohms === 0) return s;
  let [low, high] = [-Infinity, Infinity];
  let p = guess;
  for (let round = 0; round < 200; round++) {
    evaluateAt(p);
    const miss = p + ohms * point.value - s;
    if (!(Math.abs(miss) > 0)) return p;
    if (miss > 0) high = p;
    else low = p;
    const next = p - miss / (1 + ohms * point.slope);
    if (Math.abs(next - p) <= 1e-16 * Math.abs(p)) return next;
    // A falling exponential is left by a fraction of a volt a round: the middle is quicker.
    const inside = next > low && next < high && (round % 2 === 0 || round < 6);
    p = inside || high - low === Infinity ? next : (low + high) / 2;
  }
  return p;
}
