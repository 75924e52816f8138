/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
// In use:
//   const model = stepModel(stamps, [unknown, …], sampleRateHz, "Radau IIA");
//   const stepper = nonlinearStepper(model, memoryAt(…));   from rest; from nothing charged without it
//   stepper.step(end, third);                         one step, in place, nothing allocated
//   stepper.output[0], stepper.state                  volts at the end of the step; the memory, free to be overwritten
//   stepper.sensitivity(into)                         ds'/ds of the step just made, states × states, row-major
//   stepper.use(another)                              goes on with other coefficients and the same memory
import {limited, evaluate, type LawPoint} from "../analysis/nonlinearities.ts";
import {guessWeights, pastSteps} from "./guess.ts";
import {hardStep} from "./hard-step.ts";
import {sameShape, type StepModel} from "./step-model.ts";

/** A circuit that steps through time. */
export type NonlinearStepper = Readonly<{
  state: Float64Array;
  /** The outputs the model was made for, at the end of the last step. */
  output: Float64Array;
  /** Where each law stands: only a first guess for the next step. */
  points: Float64Array;
  /**
   * One step. `end`: the signal at its end; `third`: a third of the way, for Radau IIA alone.
   *
   * @returns false if the laws could not be solved to the last digit; the nearest point found was taken
   */
  step: (end: number, third?: number) => boolean;
  sensitivity: (into: Float64Array) => void;
  /** @throws {RangeError} if the model has another shape */
  use: (model: StepModel) => void;
}>;

const newtonSteps = 40;
/** From here on a Newton step loses so many of its own digits that the last one is made twice. */
const steep = 1e5;
/**
 * Last Newton step in volts. The laws bend over 25 mV and more, so that what is left of a current is half the square of the step
 * over that, as a share: under 1e-9 for live sound, which Kirchhoff's law at every node then holds to, 1e-11 for curves and figures.
 */
export const smallestSteps = {trapezoidal: 1e-6, "Radau IIA": 1e-7} as const;

/**
 * Steps a circuit whose ports are solved by Newton's method with junction limiting and line search; where that does not
 * settle, the port drive moves from that of the step before to this one's in shorter and shorter pieces (continuation).
 *
 * Method: Yeh, Abel and Smith's nonlinear state space (K-method), Proc. DAFx-07 [from memory].
 */
export function nonlinearStepper(
  first: StepModel,
  start?: Float64Array,
  memory: StepperMemory = memoryFor(first),
  smallestStep: number = smallestSteps[first.method],
): NonlinearStepper {
  let model = first;
  const {states, stages, outputs, ports, columns} = first;
  const m = first.laws.length;
  const {state, points: p, past} = memory;
  state.fill(0);
  if (start) state.set(start);
  const next = new Float64Array(states);
  const output = new Float64Array(outputs);
  const u = new Float64Array(stages);
  const [trial, settled, value, slope, residual] = arrays(5, m);
  const [reached, delta, give] = arrays(3, m);
  const drive = new Float64Array(ports);
  const [sum, change] = arrays(2, columns);
  const jacobian = new Float64Array(columns * columns);
  const point: LawPoint = {value: 0, slope: 0};
  // Where each law has its place is the same in every model of this shape.
  const port = Int32Array.from(first.laws, (each) => each.port);
  const column = Int32Array.from(first.laws, (each) => each.column);
  const sign = Float64Array.from(first.laws, (each) => each.sign);
  const weight = Float64Array.from(first.laws, (each) => each.weight);
  const drop = Float64Array.from(first.laws, (each) => each.drop);

  const addUp = (): void => {
    sum.fill(0);
    for (let k = 0; k < m; k++) sum[column[k]!]! += weight[k]! * value[k]!;
  };
  /** Voltage of a port less its drive: what the laws' values do to it. */
  const pulled = (at: number): number => {
    let volts = 0;
    for (let j = 0, c = at * columns; j < columns; j++) volts += model.K[c++]! * sum[j]!;
    return volts;
  };

  /** Residual of every law at `at`; values, their sums and slopes are left behind. Returns its square sum. */
  const look = (at: Float64Array): number => {
    for (let k = 0; k < m; k++) {
      const {law, tangent, shift} = model.laws[k]!;
      evaluate(law, at[k]!, point);
      value[k] = point.value - tangent * (at[k]! - shift);
      slope[k] = point.slope - tangent;
    }
    addUp();
    let squares = 0;
    for (let k = 0; k < m; k++) {
      const miss = at[k]! - sign[k]! * (drive[port[k]!]! + pulled(port[k]!)) + drop[k]! * value[k]!;
      residual[k] = miss;
      squares += miss * miss;
    }
    return squares;
  };

  /**
   * The matrix of Newton's step in the sums alone, columns × columns. With δ_k = (−r_k + sign_k·K_k·w)/(1 + drop_k·f'_k) and
   * w = Σ weight_k·f'_k·δ_k, this is 1 − Σ give_k·K_k, give_k = weight_k·sign_k·f'_k/(1 + drop_k·f'_k).
   */
  const derive = (): void => {
    const {K} = model;
    jacobian.fill(0);
    for (let j = 0; j < columns; j++) jacobian[j * columns + j] = 1;
    for (let k = 0; k < m; k++) {
      give[k] = (weight[k]! * sign[k]! * slope[k]!) / (1 + drop[k]! * slope[k]!);
      for (let j = 0, c = column[k]! * columns, d = port[k]! * columns; j < columns; j++)
        jacobian[c++]! -= give[k]! * K[d++]!;
    }
  };

  /** How much the sums move a law that conducts, at most: the digits that a Newton step may lose of itself. */
  const steepest = (): number => {
    let most = 0;
    for (let k = 0; k < m; k++)
      for (let j = 0, d = port[k]! * columns; j < columns; j++)
        most = Math.max(most, Math.abs(give[k]! * model.K[d++]!));
    return most;
  };

  const newton = (): boolean => {
    let squares = look(p);
    let again = false;
    for (let round = 0; round < newtonSteps; round++) {
      derive();
      change.fill(0);
      for (let k = 0; k < m; k++) change[column[k]!]! -= sign[k]! * give[k]! * residual[k]!;
      if (!solveInPlace(columns, jacobian, change, 1)) return false;
      let last = true;
      for (let k = 0; k < m; k++) {
        let pull = 0;
        for (let j = 0, c = port[k]! * columns; j < columns; j++) pull += model.K[c++]! * change[j]!;
        delta[k] = (sign[k]! * pull - residual[k]!) / (1 + drop[k]! * slope[k]!);
        trial[k] = limited(model.laws[k]!.law, p[k]!, p[k]! + delta[k]!);
        // Negated, so that a step that is no number does not count as small.
        if (!(Math.abs(delta[k]!) <= smallestStep * Math.max(1, Math.abs(p[k]!)))) last = false;
      }
      if (last) {
        // So near, the laws are their tangents; points and values then satisfy the equations to the last digit.
        for (let k = 0; k < m; k++) {
          p[k]! += delta[k]!;
          value[k]! += slope[k]! * delta[k]!;
        }
        addUp();
        if (again || !(steepest() > steep)) return true;
        again = true;
        squares = look(p);
        continue;
      }
      if (again) return true;
      let found = look(trial);
      // Limiting changes a step's direction, so the first rounds may climb; later ones must come down.
      for (let scale = 0.5, cut = 0; round > 6 && !(found < squares) && cut < 20; cut++, scale *= 0.5) {
        for (let k = 0; k < m; k++) trial[k] = p[k]! + scale * delta[k]!;
        found = look(trial);
      }
      if (!(found < Infinity)) return false;
      squares = found;
      p.set(trial);
    }
    return false;
  };

  const step = (end: number, third = end): boolean => {
    const {D, E, F, A, B, H, C, L, M, O, N} = model;
    u[stages - 1] = end;
    if (stages > 1) u[0] = third;
    let good = true;
    if (m > 0) {
      for (let i = 0, d = 0, e = 0; i < ports; i++) {
        let volts = F[i]!;
        for (let k = 0; k < states; k++) volts += D[d++]! * state[k]!;
        for (let k = 0; k < stages; k++) volts += E[e++]! * u[k]!;
        drive[i] = volts;
      }
      settled.set(p);
      for (let k = 0; k < m; k++) {
        let guess = guessWeights[0] * settled[k]!;
        for (let back = 0; back < pastSteps; back++) guess += guessWeights[back + 1]! * past[back]![k]!;
        p[k] = limited(model.laws[k]!.law, settled[k]!, guess);
      }
      for (let back = pastSteps - 1; back > 0; back--) past[back]!.set(past[back - 1]!);
      past[0]!.set(settled);
      if (!newton()) {
        p.set(settled);
        good = hardStep(model, drive, p);
        // A last round takes out what is left, where rounding lets it.
        reached.set(p);
        if (!good || !newton()) {
          p.set(reached);
          look(p);
        }
      }
    }
    const result = (row: number, S: Float64Array, U: Float64Array, steady: Float64Array, P: Float64Array): number => {
      let total = steady[row]!;
      for (let k = 0, at = row * states; k < states; k++) total += S[at++]! * state[k]!;
      for (let k = 0, at = row * stages; k < stages; k++) total += U[at++]! * u[k]!;
      for (let k = 0, at = row * columns; k < columns; k++) total += P[at++]! * sum[k]!;
      return total;
    };
    for (let i = 0; i < states; i++) next[i] = result(i, A, B, H, C);
    for (let i = 0; i < outputs; i++) output[i] = result(i, L, M, O, N);
    state.set(next);
    return good;
  };

  const inverse = new Float64Array(columns * states);
  /** A + C·∂ψ/∂s, by the implicit function theorem: (1 − Σ give_k·K_k)·∂ψ/∂s = Σ give_k·D_k. */
  const sensitivity = (into: Float64Array): void => {
    const {A, C, D} = model;
    into.set(A);
    if (m === 0) return;
    derive();
    inverse.fill(0);
    for (let k = 0; k < m; k++) {
      for (let j = 0, c = column[k]! * states, d = port[k]! * states; j < states; j++)
        inverse[c++]! += give[k]! * D[d++]!;
    }
    if (!solveInPlace(columns, jacobian, inverse, states)) return;
    for (let i = 0; i < states; i++) {
      for (let j = 0; j < columns; j++) {
        const factor = C[i * columns + j]!;
        for (let k = 0; k < states; k++) into[i * states + k]! += factor * inverse[j * states + k]!;
      }
    }
  };

  const use = (other: StepModel): void => {
    if (!sameShape(model, other)) throw new RangeError("a stepper can go on only with a model of its own shape");
    model = other;
    other.laws.forEach((each, k) => (drop[k] = each.drop));
  };
  return {state, output, points: p, step, sensitivity, use};
}

/** What a stepper carries from step to step: memory, where the laws stand, and where they stood in the steps before. */
export type StepperMemory = Readonly<Record<"state" | "points", Float64Array> & {past: readonly Float64Array[]}>;

function memoryFor({states, laws}: StepModel): StepperMemory {
  const [points = new Float64Array(), ...past] = arrays(1 + pastSteps, laws.length);
  return {state: new Float64Array(states), points, past};
}

type Arrays = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

function arrays(count: number, length: number): Arrays {
  return Array.from({length: count}, () => new Float64Array(length)) as Arrays;
}

/** Solves A·X = B for `width` columns, in place of B; A is used up. Gauss with partial pivoting; false if A is singular. */
function solveInPlace(size: number, a: Float64Array, b: Float64Array, width: number): boolean {
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(a[i * size + k]!) > Math.abs(a[best * size + k]!)) best = i;
    if (best !== k) {
      for (let j = k; j < size; j++) {
        const held = a[k * size + j]!;
        a[k * size + j] = a[best * size + j]!;
        a[best * size + j] = held;
      }
      for (let j = 0; j < width; j++) {
        const held = b[k * width + j]!;
        b[k * width + j] = b[best * width + j]!;
        b[best * width + j] = held;
      }
    }
    const pivot = a[k * size + k]!;
    if (!(Math.abs(pivot) > 0)) return false;
    for (let i = k + 1; i < size; i++) {
      const factor = a[i * size + k]! / pivot;
      if (factor === 0) continue;
      for (let j = k + 1; j < size; j++) a[i * size + j]! -= factor * a[k * size + j]!;
      for (let j = 0; j < width; j++) b[i * width + j]! -= factor * b[k * width + j]!;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    for (let j = 0; j < width; j++) {
      let sum = b[k * width + j]!;
      for (let i = k + 1; i < size; i++) sum -= a[k * size + i]! * b[i * width + j]!;
      b[k * width + j] = sum / a[k * size + k]!;
    }
  }
  return true;
}
