import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import {armOhms, variableOhms} from "../circuit/resistance.ts";
import {responseCorners, type CornerSearch} from "./response-corners.ts";
import {smallSignalStamps} from "./small-signal.ts";
import {frequencySolver} from "./solve-at-frequencies.ts";
import type {Stamps, Unknown} from "./stamps.ts";

/** What of a part is moved. "resistance" of a variable resistor is all of it, "value" its track without the end resistance. */
export type Quantity = "value" | "resistance" | "gain-bandwidth";

/** How the gain follows one part: d ln|H| / d ln(value) at each frequency. 1 means: one percent more gives one percent more. */
export type Sensitivity = Readonly<{ref: string; quantity: Quantity; gain: Float64Array}>;

/**
 * Sensitivity of the gain from the signal to `output` to every part that has a value.
 *
 * The operating point is held: where diodes conduct at rest, what a part does to their slope is left out.
 *
 * @param frequenciesHz positive; length F
 * @returns one row a quantity, of F numbers each; 0 where nothing comes through
 * @throws {UnknownNodeError} if no part touches `output`
 *
 * Method: exact, by the adjoint: dH/dp = −yᵀ·(dA/dp)·x with A·x = b and Aᵀ·y = e; Director and Rohrer, IEEE Trans. Circuit Theory
 * 16, 318–323 (1969) [from memory].
 */
export function sensitivities(circuit: Circuit, output: NodeName, frequenciesHz: Float64Array): readonly Sensitivity[] {
  const {levers, at} = adjoint(circuit, output);
  const kept = levers.map(({ref, quantity}) => ({ref, quantity, gain: new Float64Array(frequenciesHz.length)}));
  frequenciesHz.forEach((hz, k) => {
    at(hz).forEach((gain, lever) => {
      const row = kept[lever];
      if (row !== undefined) row.gain[k] = gain;
    });
  });
  return kept;
}

/** How a corner follows one part: d ln f / d ln(value). */
export type CornerSensitivity = Readonly<{ref: string; quantity: Quantity; corner: number}>;

/**
 * Sensitivity of the −3 dB point on one side of the peak to every part that has a value; undefined if the response has none.
 *
 * Method: on the corner ln|H(f, p)| keeps its distance from its reference, so that d ln f/d ln p = −(S(f) − S(reference))/slope, with
 * S the gain's sensitivities, and slope = d ln|H|/d ln f the sum of those to every C, L and 1/GBW, which frequency scales together.
 * A fixed `referenceDb` has S = 0.
 */
export function cornerSensitivities(
  circuit: Circuit,
  output: NodeName,
  side: "low" | "high",
  search: CornerSearch = {},
): Readonly<{frequencyHz: number; parts: readonly CornerSensitivity[]}> | undefined {
  const corners = responseCorners(circuit, output, search);
  const frequencyHz = corners[side];
  if (frequencyHz === undefined) return undefined;
  const {levers, at} = adjoint(circuit, output);
  const here = at(frequencyHz);
  const reference = search.referenceDb === undefined ? at(corners.peak.frequencyHz) : here.map(() => 0);
  const slope = levers.reduce((sum, {perOctave}, k) => sum + perOctave * (here[k] ?? 0), 0);
  const parts = levers.map(({ref, quantity}, k) => ({
    ref,
    quantity,
    corner: -((here[k] ?? 0) - (reference[k] ?? 0)) / slope,
  }));
  return {frequencyHz, parts};
}

/**
 * One derivative: an admittance (or its like) between two rows and columns, and d ln|admittance|/d ln(value) as `power`.
 * `perOctave` is 1 where frequency acts like the value, −1 where it acts against it, 0 where it does not act.
 */
type Lever = Readonly<{ref: string; quantity: Quantity; perOctave: number; terms: readonly Term[]}>;
type Term = Readonly<{into: Pair; from: Pair; real: number; perRadian: number}>;
type Pair = readonly (readonly [Unknown, number])[];

function adjoint(circuit: Circuit, output: NodeName) {
  requireNode(circuit, output);
  const equations = smallSignalStamps(circuit);
  const levers = circuit.parts.flatMap((part) => leversOf(part, equations));
  const solver = frequencySolver(equations);
  const unknown = equations.unknownOf.get(output) ?? -1;
  const picked = new Float64Array(equations.size);
  if (unknown >= 0) picked[unknown] = 1;
  const at = (hz: number): Float64Array => {
    solver.factor(hz);
    const forward = solver.solve(equations.signal);
    const x = {re: Float64Array.from(forward.xRe), im: Float64Array.from(forward.xIm)};
    const backward = solver.solveTransposed(picked);
    const y = {re: backward.xRe, im: backward.xIm};
    const [hRe, hIm] = [x.re[unknown] ?? 0, x.im[unknown] ?? 0];
    const radians = 2 * Math.PI * hz;
    return Float64Array.from(levers, ({terms}) => {
      let [dRe, dIm] = [0, 0];
      for (const {into, from, real, perRadian} of terms) {
        const [yRe, yIm] = [along(into, y.re), along(into, y.im)];
        const [xRe, xIm] = [along(from, x.re), along(from, x.im)];
        const [pRe, pIm] = [yRe * xRe - yIm * xIm, yRe * xIm + yIm * xRe];
        dRe -= real * pRe - radians * perRadian * pIm;
        dIm -= real * pIm + radians * perRadian * pRe;
      }
      const square = hRe * hRe + hIm * hIm;
      return square > 0 ? (dRe * hRe + dIm * hIm) / square : 0;
    });
  };
  return {levers, at};
}

const along = (pair: Pair, x: Float64Array): number =>
  pair.reduce((sum, [unknown, factor]) => sum + factor * (x[unknown] ?? 0), 0);

/** Derivatives of the matrix with respect to the logarithm of each value of a part. */
function leversOf(part: Part, {unknownOf, branchOf}: Stamps): readonly Lever[] {
  const at = (node: NodeName): Unknown => unknownOf.get(node) ?? -1;
  const between = (a: NodeName, b: NodeName): Pair => [
    [at(a), 1],
    [at(b), -1],
  ];
  const admittance = (a: NodeName, b: NodeName, real: number, perRadian = 0): Term => ({
    into: between(a, b),
    from: between(a, b),
    real,
    perRadian,
  });
  const {ref} = part;
  switch (part.kind) {
    case "resistor":
      return [{ref, quantity: "value", perOctave: 0, terms: [admittance(...part.nodes, -1 / part.ohms)]}];
    case "variable resistor": {
      const ohms = variableOhms(part);
      if (ohms === 0) return [];
      const [a, b] = part.nodes;
      return [
        {ref, quantity: "value", perOctave: 0, terms: [admittance(a, b, -(ohms - part.endOhms) / ohms ** 2)]},
        {ref, quantity: "resistance", perOctave: 0, terms: [admittance(a, b, -1 / ohms)]},
      ];
    }
    case "potentiometer": {
      const [top, wiper, bottom] = part.nodes;
      const {upper, lower} = armOhms(part);
      const arm = (a: NodeName, b: NodeName, ohms: number): readonly Term[] =>
        ohms > 0 ? [admittance(a, b, -(ohms - (part.endOhms ?? 0)) / ohms ** 2)] : [];
      return [{ref, quantity: "value", perOctave: 0, terms: [...arm(top, wiper, upper), ...arm(wiper, bottom, lower)]}];
    }
    case "capacitor":
      return [{ref, quantity: "value", perOctave: 1, terms: [admittance(...part.nodes, 0, part.farads)]}];
    case "inductor": {
      const i: Pair = [[branchOf.get(ref) ?? -1, 1]];
      return [{ref, quantity: "value", perOctave: 1, terms: [{into: i, from: i, real: 0, perRadian: -part.henries}]}];
    }
    case "op-amp": {
      const {gainBandwidthHz, outputOhms} = part.model;
      if (!Number.isFinite(gainBandwidthHz)) return [];
      const i = branchOf.get(ref) ?? -1;
      const inside: Pair = [
        [at(part.nodes[2]), 1],
        [i, outputOhms],
      ];
      const term = {into: [[i, 1]] as const, from: inside, real: 0, perRadian: -1 / (2 * Math.PI * gainBandwidthHz)};
      return [{ref, quantity: "gain-bandwidth", perOctave: -1, terms: [term]}];
    }
    default:
      return [];
  }
}
