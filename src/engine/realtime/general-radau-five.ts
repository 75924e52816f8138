/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {factorReal, solveReal} from "../solve/real-lu.ts";
import {hardStep} from "./hard-step.ts";
import type {LawTable} from "./law-table.ts";
import type {LinearResponse} from "./linear-response.ts";
import {modelPlaces} from "./radau-five-model.ts";
import {
  guessLength,
  newtonShare,
  outcomes,
  stages,
  type RadauFiveMemory,
  type RadauFiveStep,
} from "./radau-five-step.ts";

const mostRounds = 10;

/**
 * The step of three-stage Radau IIA in TypeScript: for what is not compiled, and where nothing may be.
 *
 * Method: Newton's on the sums of the laws, the only unknowns that are not linear; the error by what the cubic's slope at the start lacks,
 * smoothed by the equations' real part: Hairer and Wanner, Solving ODEs II, section IV.8 [from memory].
 *
 * @param table of the circuit's laws in three stages
 * @param memory to work on, another step's perhaps
 */
export function generalRadauFive(
  circuit: LinearResponse,
  table: LawTable,
  memory: RadauFiveMemory = memoryFor(circuit, table.laws.length),
): RadauFiveStep {
  const {states: n, ports: g, outputs: r, columns: c} = circuit;
  const {laws, look, limited, widths} = table;
  const {tolerance, state, slope: slopeBefore, points, input, output, error} = memory;
  const m = laws.length;
  const [all, sums, portRows] = [stages * m, stages * c, stages * g];
  const {sums: firstSum, across, memory: afterOutputs, smooth} = modelPlaces(circuit);
  const [next, defect, scale, from] = [floats(n), floats(n), floats(n), floats(across)];
  const outputNext = floats(stages * r);
  const [p, value, slope, residual, delta, give] = Array.from({length: 6}, () => floats(all)) as Six;
  const drive = floats(portRows);
  const change = floats(sums);
  const jacobian = floats(sums * sums);
  const small = floats(c);
  const smallMatrix = floats(c * c);
  const port = Int32Array.from({length: all}, (_, k) => Math.floor(k / m) * g + laws[k % m]!.port);
  const column = Int32Array.from({length: all}, (_, k) => Math.floor(k / m) * c + laws[k % m]!.column);
  const perLaw = (of: (law: (typeof laws)[number]) => number) =>
    Float64Array.from({length: all}, (_, k) => of(laws[k % m]!));
  const [sign, weight, drop] = [perLaw((law) => law.sign), perLaw((law) => law.weight), perLaw((law) => law.drop)];
  let coefficients = floats(0);

  const order = new Int32Array(sums);
  const right = floats(sums);
  /** Solves matrix·x = b in place of b; the matrix is used up. */
  const solve = (size: number, matrix: Float64Array, b: Float64Array): boolean => {
    if (factorReal(size, matrix, order) >= 0) return false;
    right.set(b);
    solveReal(size, matrix, order, right, b);
    return true;
  };

  /** Row `row` of the model times the first `count` of what a step starts from. */
  const times = (row: number, count: number): number => {
    let sum = 0;
    for (let k = 0, at = row * across; k < count; k++) sum += coefficients[at++]! * from[k]!;
    return sum;
  };
  const ofSums = (row: number, vector: Float64Array, first: number): number => {
    let sum = 0;
    for (let k = 0, at = row * across + firstSum; k < sums; k++) sum += coefficients[at++]! * vector[first + k]!;
    return sum;
  };

  const addUp = (): void => {
    from.fill(0, firstSum);
    for (let k = 0; k < all; k++) from[firstSum + column[k]!]! += weight[k]! * value[k]!;
  };

  const newton = (): boolean => {
    for (let round = 0; round < mostRounds; round++) {
      look(p, value, slope);
      addUp();
      jacobian.fill(0);
      change.fill(0);
      for (let j = 0; j < sums; j++) jacobian[j * sums + j] = 1;
      for (let k = 0; k < all; k++) {
        const pulled = drive[port[k]!]! + ofSums(port[k]!, from, firstSum);
        residual[k] = p[k]! - sign[k]! * pulled + drop[k]! * value[k]!;
        give[k] = (weight[k]! * sign[k]! * slope[k]!) / (1 + drop[k]! * slope[k]!);
        const to = column[k]! * sums;
        for (let j = 0, at = port[k]! * across + firstSum; j < sums; j++)
          jacobian[to + j]! -= give[k]! * coefficients[at++]!;
        change[column[k]!]! -= sign[k]! * give[k]! * residual[k]!;
      }
      if (!solve(sums, jacobian, change)) return false;
      let bend = 0;
      for (let k = 0; k < all; k++) {
        const pull = ofSums(port[k]!, change, 0);
        delta[k] = (sign[k]! * pull - residual[k]!) / (1 + drop[k]! * slope[k]!);
        bend = Math.max(bend, Math.abs(delta[k]!) / widths[k % m]!);
      }
      if (!(bend < Infinity)) return false;
      // How far this round moved memory and outputs, in tolerances; another would move them by that times what the laws bend.
      let moved = 0;
      for (let i = 0; i < n; i++) moved = Math.max(moved, Math.abs(ofSums(afterOutputs + i, change, 0)) / scale[i]!);
      for (let i = 0; i < r; i++) {
        const allowed = tolerance[2]! + tolerance[0]! * Math.abs(output[4 * r + i]!);
        moved = Math.max(moved, Math.abs(ofSums(afterOutputs - r + i, change, 0)) / allowed);
      }
      if (bend <= 1 && bend * moved <= 2 * newtonShare) {
        for (let k = 0; k < all; k++) {
          p[k]! += delta[k]!;
          value[k]! += slope[k]! * delta[k]!;
        }
        addUp();
        return true;
      }
      for (let k = 0; k < all; k++) p[k] = limited(k % m, p[k]!, p[k]! + delta[k]!);
    }
    return false;
  };

  /** How large the step's error is, in tolerances. */
  const estimate = (): number => {
    const width = n + c;
    smallMatrix.fill(0);
    small.fill(0);
    for (let j = 0; j < c; j++) smallMatrix[j * c + j] = 1;
    for (let k = 0; k < m; k++) {
      const at = smooth + (n + port[k]!) * width;
      const gives = give[(stages - 1) * m + k]!;
      const to = column[k]!;
      for (let j = 0; j < n; j++) small[to]! += gives * coefficients[at + j]! * defect[j]!;
      for (let j = 0; j < c; j++) smallMatrix[to * c + j]! -= gives * coefficients[at + n + j]!;
    }
    if (!solve(c, smallMatrix, small)) return Infinity;
    let size = 0;
    for (let i = 0; i < n; i++) {
      const at = smooth + i * width;
      let sum = 0;
      for (let k = 0; k < n; k++) sum += coefficients[at + k]! * defect[k]!;
      for (let k = 0; k < c; k++) sum += coefficients[at + n + k]! * small[k]!;
      size = Math.max(size, Math.abs(sum) / scale[i]!);
    }
    return size;
  };

  /** How far the outputs' cubics pass by the place where the step before has been, in tolerances of what that says of the step. */
  const bends = (weights: Float64Array): number => {
    let most = 0;
    for (let i = 0; i < r; i++) {
      const start = output[4 * r + i]!;
      let missed = output[3 * r + i]! - weights[stages * (stages + 1)]! * start;
      for (let stage = 0; stage < stages; stage++)
        missed -= weights[stages * (stages + 1) + 1 + stage]! * outputNext[stage * r + i]!;
      const allowed = tolerance[2]! + tolerance[0]! * Math.max(Math.abs(start), Math.abs(outputNext[2 * r + i]!));
      most = Math.max(most, (Math.abs(missed) * weights[guessLength - 1]!) / allowed);
    }
    return most;
  };

  const tried = (model: number, guess: number, hard: boolean): number => {
    coefficients = memory.model(model);
    const weights = memory.guess(guess);
    from.set(state);
    from.set(input, n);
    from[n + stages] = 1;
    for (let i = 0; i < n; i++) scale[i] = tolerance[3 + i]! + tolerance[0]! * Math.abs(state[i]!);
    if (m > 0) {
      for (let i = 0; i < portRows; i++) drive[i] = times(i, firstSum);
      for (let k = 0; k < all; k++) {
        let sum = 0;
        for (let i = 0; i <= stages; i++)
          sum += weights[Math.floor(k / m) * (stages + 1) + i]! * points[i * m + (k % m)]!;
        p[k] = limited(k % m, points[stages * m + (k % m)]!, sum);
      }
      if (hard) findPoints();
      if (!newton()) return outcomes.unsolved;
    }
    for (let i = 0; i < n; i++) {
      next[i] = times(afterOutputs + i, across);
      scale[i] = Math.max(scale[i]!, tolerance[3 + i]! + tolerance[0]! * Math.abs(next[i]!));
      defect[i] = slopeBefore[i]! - times(afterOutputs + n + i, across);
    }
    const size = estimate();
    for (let i = 0; i < stages * r; i++) outputNext[i] = times(afterOutputs - stages * r + i, across);
    error[0] = Math.max(size, bends(weights));
    if (!(error[0] <= tolerance[1]!)) return outcomes.inaccurate;
    for (let i = 0; i < n; i++) slopeBefore[i] = times(afterOutputs + 2 * n + i, across);
    output.copyWithin(0, 3 * r, 4 * r);
    output.copyWithin(r, 4 * r, 5 * r);
    output.set(outputNext, 2 * r);
    points.copyWithin(0, all);
    points.set(p, m);
    state.set(next);
    return outcomes.good;
  };
  const placed = Array.from({length: stages}, (_, stage) =>
    circuit.laws.map((law) => ({...law, port: stage * g + law.port, column: stage * c + law.column})),
  ).flat();
  /** Points that satisfy the laws, from wherever they stand. */
  const findPoints = (): void => {
    const K = Float64Array.from(
      {length: portRows * sums},
      (_, at) => coefficients[Math.floor(at / sums) * across + firstSum + (at % sums)]!,
    );
    const perStage = circuit.laws.length;
    const found = floats(stages * perStage);
    const eachLaw = (act: (at: number, k: number, mirrored: boolean) => void): void => {
      for (let k = 0; k < all; k++)
        laws[k % m]!.members.forEach((member, which) => act(Math.floor(k / m) * perStage + member, k, which > 0));
    };
    eachLaw((at, k, mirrored) => (found[at] = mirrored ? -p[k]! : p[k]!));
    if (!hardStep({laws: placed, K, columns: sums}, drive, found)) return;
    eachLaw((at, k, mirrored) => {
      if (!mirrored) p[k] = found[at]!;
    });
  };
  return {
    ...memory,
    compiled: false,
    attempt: (model, guess) => tried(model, guess, false),
    attemptHard: (model, guess) => tried(model, guess, true),
  };
}

type Six = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

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
