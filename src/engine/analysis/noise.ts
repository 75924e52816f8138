import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {aWeightingDb} from "../sound/a-weighting.ts";
import {noiseSources, type NoiseKind, type NoiseSource} from "./noise-sources.ts";
import {operatingPoint} from "./operating-point.ts";
import {smallSignalStamps} from "./small-signal.ts";
import {frequencySolver, type FrequencySolver} from "./solve-at-frequencies.ts";

export type NoiseOptions = Readonly<{
  /** 300 K by default. */
  temperatureKelvin?: number;
}>;

/** Noise density over frequency, and what each source adds to its square. */
export type NoiseDensity = Readonly<{
  /** V/√Hz at each frequency. */
  density: Float64Array;
  /** V²/Hz at each frequency, source by source. The two arms of a potentiometer are two sources of one part. */
  contributions: readonly Readonly<{ref: string; kind: NoiseKind; squared: Float64Array}>[];
}>;

/** Noise over a band. */
export type IntegratedNoise = Readonly<{
  /** Volts, root mean square. */
  volts: number;
  /** Volts, root mean square, A-weighted. */
  aWeightedVolts: number;
  /** Share of each part in the square of `volts`, 0 to 1, the largest first. They add up to 1. */
  shares: readonly Readonly<{ref: string; share: number; squaredVolts: number}>[];
  /** The same, source by source, in V². */
  contributions: readonly Readonly<{ref: string; kind: NoiseKind; squaredVolts: number}>[];
}>;

/**
 * Noise density at `output` with the signal source quiet.
 *
 * @param frequenciesHz not negative; length F
 * @throws {UnknownNodeError} if no part touches `output`
 *
 * Method: adjoint network; one transposed solve a frequency gives the transfer from every source: Rohrer, Nagel, Meyer and Weber,
 * IEEE JSSC 6, 204–213 (1971) [from memory].
 */
export function noiseDensity(
  circuit: Circuit,
  output: NodeName,
  frequenciesHz: Float64Array,
  options: NoiseOptions = {},
): NoiseDensity {
  const {sources, squaredAt} = noisy(circuit, output, options);
  const contributions = sources.map(({ref, kind}) => ({ref, kind, squared: new Float64Array(frequenciesHz.length)}));
  const density = frequenciesHz.map((hz, k) => {
    let sum = 0;
    squaredAt(hz).forEach((squared, source) => {
      const kept = contributions[source];
      if (kept !== undefined) kept.squared[k] = squared;
      sum += squared;
    });
    return Math.sqrt(sum);
  });
  return {density, contributions};
}

/**
 * Noise at `output` from `lowHz` to `highHz`, 20 Hz and 20 kHz by default.
 *
 * Method: Gauss and Legendre's eight points in each of 48 equal steps of log frequency: for a response without resonances of
 * Q above 100 the sum is exact to 1e-9. A-weighting: IEC 61672-1.
 */
export function integratedNoise(
  circuit: Circuit,
  output: NodeName,
  {lowHz = 20, highHz = 20e3, ...options}: NoiseOptions & Readonly<{lowHz?: number; highHz?: number}> = {},
): IntegratedNoise {
  if (!(lowHz > 0 && highHz > lowHz))
    throw new RangeError(`a band must ascend from above 0 Hz, got ${lowHz} to ${highHz} Hz`);
  const {sources, squaredAt} = noisy(circuit, output, options);
  const sums = new Float64Array(sources.length);
  let weighted = 0;
  const width = Math.log(highHz / lowHz) / steps;
  for (let step = 0; step < steps; step++) {
    for (const [node, weight] of gauss) {
      const hz = lowHz * Math.exp(width * (step + (1 + node) / 2));
      const area = (weight / 2) * width * hz;
      const heard = 10 ** (aWeightingDb(hz) / 10);
      squaredAt(hz).forEach((squared, source) => {
        sums[source] = (sums[source] ?? 0) + area * squared;
        weighted += area * squared * heard;
      });
    }
  }
  const total = sums.reduce((sum, squared) => sum + squared, 0);
  const contributions = sources.map(({ref, kind}, k) => ({ref, kind, squaredVolts: sums[k] ?? 0}));
  const byPart = new Map<string, number>();
  for (const {ref, squaredVolts} of contributions) byPart.set(ref, (byPart.get(ref) ?? 0) + squaredVolts);
  const shares = [...byPart]
    .map(([ref, squaredVolts]) => ({ref, share: total > 0 ? squaredVolts / total : 0, squaredVolts}))
    .sort((a, b) => b.squaredVolts - a.squaredVolts);
  return {volts: Math.sqrt(total), aWeightedVolts: Math.sqrt(weighted), shares, contributions};
}

function noisy(circuit: Circuit, output: NodeName, {temperatureKelvin = 300}: NoiseOptions) {
  requireNode(circuit, output);
  const point = operatingPoint(circuit);
  const equations = smallSignalStamps(circuit, point);
  const sources = noiseSources(circuit, point, temperatureKelvin);
  const solver = frequencySolver(equations);
  const picked = new Float64Array(equations.size);
  const unknown = equations.unknownOf.get(output) ?? -1;
  if (unknown >= 0) picked[unknown] = 1;
  const squares = new Float64Array(sources.length);
  const squaredAt = (hz: number): Float64Array => {
    solver.factor(hz);
    transfers(solver, picked, sources, squares);
    return squares;
  };
  return {sources, squaredAt};
}

function transfers(
  solver: FrequencySolver,
  picked: Float64Array,
  sources: readonly NoiseSource[],
  squares: Float64Array,
): void {
  const {xRe, xIm} = solver.solveTransposed(picked);
  sources.forEach(({into, outOf, squared}, k) => {
    const re = (xRe[into] ?? 0) - (xRe[outOf] ?? 0);
    const im = (xIm[into] ?? 0) - (xIm[outOf] ?? 0);
    squares[k] = squared * (re * re + im * im);
  });
}

const steps = 48;

/** Nodes and weights of Gauss–Legendre quadrature with 8 points on −1 to 1 (Abramowitz and Stegun, table 25.4 [from memory]). */
const gauss: readonly (readonly [node: number, weight: number])[] = (
  [
    [0.1834346424956498, 0.362683783378362],
    [0.525532409916329, 0.3137066458778873],
    [0.7966664774136267, 0.2223810344533745],
    [0.9602898564975363, 0.1012285362903763],
  ] as const
).flatMap(([node, weight]) => [[-node, weight] as const, [node, weight] as const]);
