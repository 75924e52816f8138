/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
import type {Circuit} from "../circuit/circuit.ts";
import {restProblem, type RestProblem} from "./rest-problem.ts";
import type {Stamps} from "./stamps.ts";

export type RestSolution = Readonly<{
  x: Float64Array;
  residualAmperes: number;
  stuck: number | undefined;
  /** Whether only diodes and capacitors join some nodes to ground. */
  islands: boolean;
}>;

/**
 * Solves G·x + Σ ports = `drive`.
 *
 * Newton with junction limiting; where that does not settle, the sources are raised from 0 in steps, and where that fails
 * too, the circuit is let go from there as it would by itself: implicit Euler steps with its own capacitors (and a picofarad
 * at every node), each ten times longer than the last, until rest. A last few plain Newton steps take out what is left.
 *
 * An op-amp with positive feedback rests in three places, and stays in none between its rails: where the solution found would run
 * away by itself, the circuit is let go from nothing charged instead, and where it ends up is taken if it stays there.
 *
 * @returns the solution, or the unknown that no equation determines
 */
export function solveAtRest(
  circuit: Circuit,
  equations: Stamps,
  drive: Float64Array,
  near?: Float64Array,
): RestSolution {
  const problem = restProblem(circuit, equations);
  const start = near?.length === equations.size ? Float64Array.from(near) : new Float64Array(equations.size);
  const given = Float64Array.from(drive);
  problem.enter(start, given);
  const x = Float64Array.from(start);
  const stuck = problem.stuckUnknown(x);
  const {islands} = problem;
  if (stuck >= 0) return {x, residualAmperes: Infinity, stuck, islands};
  const found = settled(problem, start, x, given);
  const stands = {residualAmperes: problem.residual(x, given), stuck: found ? undefined : problem.worstRow(x, given)};
  problem.leave(x);
  return {x, ...stands, islands};
}

function settled(problem: RestProblem, start: Float64Array, x: Float64Array, drive: Float64Array): boolean {
  let found = problem.newton(x, drive);
  if (!found) {
    x.set(start);
    found = raiseSources(problem, x, drive) || letGo(problem, x, drive);
  }
  if (found) finish(problem, x, drive);
  return found;
}

function finish(problem: RestProblem, x: Float64Array, drive: Float64Array): void {
  problem.polish(x, drive);
  if (problem.mayLatch && problem.runsAway(x)) {
    const other = new Float64Array(x.length);
    if (letGo(problem, other, drive, 2) && !problem.runsAway(other)) {
      x.set(other);
      problem.polish(x, drive);
    }
  }
}

function raiseSources(problem: RestProblem, x: Float64Array, drive: Float64Array): boolean {
  const scaled = new Float64Array(drive.length);
  const trial = new Float64Array(x.length);
  let share = 0;
  let step = 0.1;
  for (let k = 0; k < 200 && share < 1; k++) {
    const next = Math.min(1, share + step);
    for (let row = 0; row < drive.length; row++) scaled[row] = next * drive[row]!;
    trial.set(x);
    if (problem.newton(trial, scaled)) {
      x.set(trial);
      share = next;
      step *= 2;
    } else {
      step /= 4;
      if (step < 1e-6) return false;
    }
  }
  return share >= 1;
}

function letGo(problem: RestProblem, x: Float64Array, drive: Float64Array, growth = 10): boolean {
  const trial = new Float64Array(x.length);
  let seconds = 1e-9;
  for (let k = 0; k < 400; k++) {
    trial.set(x);
    if (problem.newton(trial, drive, {seconds, before: x})) {
      x.set(trial);
      if (seconds > 1e9) return problem.newton(x, drive);
      seconds *= growth;
    } else {
      seconds /= 30;
      if (seconds < 1e-21) return false;
    }
  }
  return false;
}
