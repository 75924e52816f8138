import type {Stamps, Store} from "../analysis/stamps.ts";
import {compiledRadauFive} from "./compiled/compiled-radau-five.ts";
import {generalRadauFive} from "./general-radau-five.ts";
import {linearResponse, type LinearResponse} from "./linear-response.ts";
import {radauFiveModel} from "./radau-five-model.ts";
import type {RadauFiveStep} from "./radau-five-step.ts";
import {bendAt, cubicWeights, placeBefore, realEigenvalue, stageNodes} from "./radau-five.ts";
import {tableLaws} from "./table-laws.ts";

/** A circuit's steps of three-stage Radau IIA in lengths a fixed ratio apart, each derived when it is first wanted, and kept. */
export type StepLadder = Readonly<{
  step: RadauFiveStep;
  outputs: number;
  /** What each memory may err by for every volt that the outputs may. */
  perVolt: Float64Array;
  /** Lengths of the rungs in seconds, the longest first. */
  seconds: Float64Array;
  /** The place of the model of a rung. */
  model: (rung: number) => number;
  /** The place of the guess after a step that was so many rungs longer; Infinity: where the laws stood last. */
  guess: (shorter: number) => number;
}>;

/** Rungs from one length to its half. */
export const rungsPerOctave = 2;
/** From the longest step down to a 10¹¹th of it. */
const rungCount = 36 * rungsPerOctave;
/** Rungs that a step may be longer than the one before. */
export const mostGrowth = 3 * rungsPerOctave;
/** Rungs whose models are derived from one solution of the equations: further away it would lose digits. */
const rungsPerResponse = 5 * rungsPerOctave;

/**
 * The ladder of a circuit.
 *
 * @param outputs unknowns to read, −1 for ground
 * @param longestSeconds length of its longest step
 * @param compiled false for the steps in TypeScript even where they can be machine code
 * @throws {CircuitError} if the equations have no single solution
 */
export function stepLadder(
  equations: Stamps,
  outputs: readonly number[],
  longestSeconds: number,
  compiled = true,
): StepLadder {
  const first = linearResponse(equations, outputs, 1 / longestSeconds);
  const laws = tableLaws(first.laws);
  const {states, ports, columns} = first;
  const sizes = {states, ports, columns, outputs: outputs.length, laws: laws.length};
  const guessCount = mostGrowth + rungCount + 1;
  const code = compiled ? compiledRadauFive(sizes, laws, {guesses: guessCount, models: rungCount}) : undefined;
  const general = generalRadauFive(first, laws, code?.memory);
  const step = code ? {...general, compiled: true, attempt: code.attempt} : general;
  const seconds = Float64Array.from({length: rungCount}, (_, rung) => longestSeconds * 2 ** (-rung / rungsPerOctave));

  const responses = new Map<number, LinearResponse>();
  const responseNear = (rung: number): LinearResponse => {
    const group = Math.floor(rung / rungsPerResponse);
    const known = responses.get(group);
    if (known !== undefined) return known;
    const middle = (seconds[0] ?? 1) * 2 ** (-((group + 0.5) * rungsPerResponse) / rungsPerOctave);
    const near = linearResponse(equations, outputs, realEigenvalue / middle);
    // The laws that a loose node needs tangents of are those of the first response; one with others would not fit them.
    const fits = near.laws.every(({tangent}, k) => tangent === first.laws[k]?.tangent);
    responses.set(group, fits ? near : first);
    return fits ? near : first;
  };
  const [models, guesses] = [new Uint8Array(rungCount), new Uint8Array(guessCount)];
  return {
    step,
    outputs: outputs.length,
    perVolt: Float64Array.from(equations.stores, (store, k) => perVolt(store, k, first)),
    seconds,
    model(rung) {
      if (models[rung] === 1) return rung;
      step.model(rung).set(radauFiveModel(responseNear(rung), seconds[rung] ?? Number.NaN));
      models[rung] = 1;
      return rung;
    },
    guess(shorter) {
      const place = shorter === Infinity ? guessCount - 1 : shorter + mostGrowth;
      if (guesses[place] === 1) return place;
      step.guess(place).set(guessAfter(2 ** (-shorter / rungsPerOctave)));
      guesses[place] = 1;
      return place;
    },
  };
}

/** Of a coil without a loop too. */
const leastSiemens = 1e-9;

/** 1 for volts of a capacitor; for amperes of a coil what a volt in its loop makes of them in a step of the longest kind. */
function perVolt({from, into, value}: Store, k: number, {values, states, columns}: LinearResponse): number {
  const [[unknown, factor] = [], ...others] = into;
  const coil = others.length === 0 && unknown === from[0]?.[0] && factor === -1;
  return coil ? Math.max(leastSiemens, (values[k * (states + 2 + columns) + k] ?? 0) / value) : 1;
}

/**
 * What a step `ratio` times as long as the one before takes from it: the weights of the points of that one in each stage's guess; then the
 * weights of start and stages in the cubic where the last stage but one of the step before lies, and how far the outputs' cubics, which
 * pass that place by, are off within the step for what they miss there. The curve that is drawn goes through that place, and is better.
 *
 * @param ratio 0 for a step with none before it
 */
export function guessAfter(ratio: number): readonly number[] {
  const settled = [0, 0, 0, 1];
  if (ratio === 0) return [...settled, ...settled, ...settled, ...settled, 0];
  const place = placeBefore(ratio);
  return [
    ...stageNodes.flatMap((node) => cubicWeights(1 + node * ratio)),
    ...cubicWeights(place),
    widestBend / Math.abs(bendAt(place)),
  ];
}

/** Largest of |bendAt| within a step, at 0.861 of it. */
const widestBend = Math.abs(bendAt(0.861));
