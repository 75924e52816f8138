/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {solveInPlace} from "../solve/solve-in-place.ts";
import {carefulNewton} from "./careful-newton.ts";
import {hardStep} from "./hard-step.ts";
import {lawAtWork, move} from "./law-at-work.ts";
import type {LinearResponse} from "./linear-response.ts";
import {inside, outside} from "./nonlinear-stepper.ts";
import {modelPlaces} from "./radau-five-model.ts";
import {guessLength, outcomes, stages, type RadauFiveMemory, type RadauFiveStep} from "./radau-five-step.ts";
import type {TableLaw} from "./table-laws.ts";

/** Last Newton step in volts: what is left is its square over the 25 mV and more that the laws bend over. */
const smallestStep = 1e-8;

/**
 * The step of three-stage Radau IIA in TypeScript: for where there is no machine code, and for what defeats it.
 *
 * Method: Newton's on the sums of the laws, the only unknowns that are not linear; the error by what the cubic's slope at the start
 * lacks, smoothed by the equations' real part: Hairer and Wanner, Solving ODEs II, section IV.8 [from memory].
 *
 * @param table the circuit's laws as the memory's points have them
 * @param memory to work on, another step's perhaps
 */
export function generalRadauFive(
  circuit: LinearResponse,
  table: readonly TableLaw[],
  memory: RadauFiveMemory = memoryFor(circuit, table.length),
): RadauFiveStep {
  const {states: n, ports: g, outputs: r, columns: c} = circuit;
  const {tolerance, state, slope, points, input, output, error} = memory;
  const {outputs: firstOutput, memory: afterOutputs, sums: firstSum, across, smooth} = modelPlaces(circuit);
  const sumCount = stages * c;
  const placed = Array.from({length: stages}, (_, stage) =>
    circuit.laws.map((law) => ({...law, port: stage * g + law.port, column: stage * c + law.column})),
  ).flat();
  const laws = placed.map((law) => lawAtWork(law, sumCount));
  /** Of each law its stage, its place in the table, and whether it is read at the opposite of the table's voltage. */
  const places = placed.map((_, at) => {
    const member = at % circuit.laws.length;
    const k = table.findIndex(({members}) => members.includes(member));
    return {stage: Math.floor(at / circuit.laws.length), k, mirror: table[k]!.members[0] === member ? 1 : -1};
  });
  const [next, defect, scale, outputNext] = [floats(n), floats(n), floats(n), floats(stages * r)];
  const [from, drives, sums] = [floats(across), floats(stages * g), floats(sumCount)];
  const [small, smallMatrix] = [floats(c), floats(c * c)];
  const careful = carefulNewton(laws, sumCount, sums);
  let coefficients = floats(0);

  /** Row `row` of the model times the first `count` of what a step starts from. */
  const times = (row: number, count = across): number => {
    let sum = 0;
    for (let k = 0, at = row * across; k < count; k++) sum += coefficients[at++]! * from[k]!;
    return sum;
  };
  const use = (model: number): void => {
    const wanted = memory.model(model);
    if (wanted.byteOffset === coefficients.byteOffset && wanted.buffer === coefficients.buffer) return;
    coefficients = wanted;
    for (const {pulls, sign, port} of laws)
      for (let j = 0, at = port * across + firstSum; j < sumCount; j++) pulls[j] = sign * coefficients[at++]!;
  };
  const start = (weights: Float64Array): void => {
    for (let i = 0; i < stages * g; i++) drives[i] = times(i, firstSum);
    laws.forEach((law, at) => {
      const {stage, k, mirror} = places[at]!;
      let guess = 0;
      for (let i = 0; i <= stages; i++) guess += weights[stage * (stages + 1) + i]! * points[i * table.length + k]!;
      law.drive = law.sign * drives[law.port]!;
      move(law, mirror * points[stages * table.length + k]!, mirror * guess);
    });
  };
  /** The laws' points from wherever they stand. */
  const findPoints = (): void => {
    const K = Float64Array.from(
      {length: stages * g * sumCount},
      (_, at) => coefficients[Math.floor(at / sumCount) * across + firstSum + (at % sumCount)]!,
    );
    const model = {laws: placed, K, columns: sumCount};
    const volts = Float64Array.from(laws, (_, k) => outside(model, laws, k));
    if (hardStep(model, drives, volts)) laws.forEach((law, k) => (law.point = inside(model, laws, k, volts[k]!)));
  };

  /** What an output may err by. */
  const allowedAt = (i: number): number =>
    tolerance[2]! + tolerance[0]! * Math.max(Math.abs(output[4 * r + i]!), Math.abs(outputNext[2 * r + i]!));
  /** How large the error of memory and outputs is, in tolerances. */
  const estimate = (): number => {
    const width = n + c;
    smallMatrix.fill(0);
    small.fill(0);
    for (let j = 0; j < c; j++) smallMatrix[j * c + j] = 1;
    for (let k = laws.length - circuit.laws.length; k < laws.length; k++) {
      const {port, column, sign, give} = laws[k]!;
      const at = smooth + (n + port - (stages - 1) * g) * width;
      const to = column - (stages - 1) * c;
      for (let j = 0; j < n; j++) small[to]! += sign * give * coefficients[at + j]! * defect[j]!;
      for (let j = 0; j < c; j++) smallMatrix[to * c + j]! -= sign * give * coefficients[at + n + j]!;
    }
    if (!solveInPlace(c, smallMatrix, small, 1)) return Infinity;
    const errorOf = (row: number): number => {
      const at = smooth + row * width;
      let sum = 0;
      for (let k = 0; k < n; k++) sum += coefficients[at + k]! * defect[k]!;
      for (let k = 0; k < c; k++) sum += coefficients[at + n + k]! * small[k]!;
      return Math.abs(sum);
    };
    let size = 0;
    for (let i = 0; i < n; i++) size = Math.max(size, errorOf(i) / scale[i]!);
    for (let i = 0; i < r; i++) size = Math.max(size, errorOf(n + g + i) / allowedAt(i));
    return size;
  };

  /** How far the outputs' cubics pass by the place where the step before has been, in tolerances of what that says of the step. */
  const bends = (weights: Float64Array): number => {
    const cubic = stages * (stages + 1);
    let most = 0;
    for (let i = 0; i < r; i++) {
      const begin = output[4 * r + i]!;
      let missed = output[3 * r + i]! - weights[cubic]! * begin;
      for (let stage = 0; stage < stages; stage++) missed -= weights[cubic + 1 + stage]! * outputNext[stage * r + i]!;
      most = Math.max(most, (Math.abs(missed) * weights[guessLength - 1]!) / allowedAt(i));
    }
    return most;
  };

  const tried = (model: number, guess: number, hard: boolean): number => {
    use(model);
    const weights = memory.guess(guess);
    from.set(state);
    from.set(input, n);
    from[n + stages] = 1;
    start(weights);
    if (hard) findPoints();
    if (laws.length > 0 && !careful.settle(smallestStep)) return outcomes.unsolved;
    from.set(sums, firstSum);
    for (let i = 0; i < n; i++) {
      next[i] = times(afterOutputs + i);
      scale[i] = tolerance[3 + i]! + tolerance[0]! * Math.max(Math.abs(state[i]!), Math.abs(next[i]!));
      defect[i] = slope[i]! - times(afterOutputs + n + i);
    }
    for (let i = 0; i < stages * r; i++) outputNext[i] = times(firstOutput + i);
    error[0] = Math.max(estimate(), bends(weights));
    if (!(error[0] <= tolerance[1]!)) return outcomes.inaccurate;
    for (let i = 0; i < n; i++) slope[i] = times(afterOutputs + 2 * n + i);
    state.set(next);
    output.copyWithin(0, 3 * r, 4 * r);
    output.copyWithin(r, 4 * r, 5 * r);
    output.set(outputNext, 2 * r);
    points.copyWithin(0, stages * table.length);
    laws.forEach(({point}, at) => {
      const {stage, k, mirror} = places[at]!;
      if (mirror > 0) points[(stage + 1) * table.length + k] = point;
    });
    return outcomes.good;
  };
  return {
    ...memory,
    compiled: false,
    attempt: (model, guess) => tried(model, guess, false),
    attemptHard: (model, guess) => tried(model, guess, true),
  };
}

function memoryFor(circuit: LinearResponse, laws: number): RadauFiveMemory {
  const {states, outputs} = circuit;
  const places = (length: number) => {
    const all = new Map<number, Float64Array>();
    return (at: number): Float64Array => {
      const found = all.get(at) ?? floats(length);
      all.set(at, found);
      return found;
    };
  };
  return {
    tolerance: floats(3 + states),
    state: floats(states),
    slope: floats(states),
    points: floats((stages + 1) * laws),
    input: floats(stages),
    output: floats((stages + 2) * outputs),
    error: floats(1),
    guess: places(guessLength),
    model: places(modelPlaces(circuit).length),
  };
}

function floats(length: number): Float64Array {
  return new Float64Array(length);
}
