/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
// In use:
//   const model = stepModel(stamps, [unknown, …], sampleRateHz, "Radau IIA");
//   const stepper = nonlinearStepper(model, restX);   memory of a solution at rest; all at 0 without it
//   stepper.step(end, third);                         one step, in place, nothing allocated
//   stepper.output[0], stepper.state                  volts at the end of the step; the memory, free to be overwritten
//   stepper.sensitivity(into)                         ds'/ds of the step just made, states × states, row-major
//   stepper.use(another)                              goes on with other coefficients and the same memory
import {limited, evaluate, type LawPoint} from "../analysis/nonlinearities.ts";
import {sameShape, type StepModel} from "./step-model.ts";

/** A circuit that steps through time. */
export type NonlinearStepper = Readonly<{
  state: Float64Array;
  /** The outputs the model was made for, at the end of the last step. */
  output: Float64Array;
  /** What the ports stand at: only a first guess for the next step. */
  ports: Float64Array;
  /**
   * One step. `end`: the signal at its end; `third`: a third of the way, for Radau IIA alone.
   *
   * @returns false if the ports could not be solved to the last digit; the nearest point found was taken
   */
  step: (end: number, third?: number) => boolean;
  sensitivity: (into: Float64Array) => void;
  /** @throws {RangeError} if the model has another shape */
  use: (model: StepModel) => void;
}>;

const newtonSteps = 40;
const pathSteps = 400;
/**
 * Last Newton step in volts. The laws bend over 25 mV and more, so that what is left is its square over twice that: 2e-9 V
 * for live sound, 150 dB under a quiet note, and 2e-13 V for curves and figures.
 */
const smallestSteps = {trapezoidal: 1e-5, "Radau IIA": 1e-7} as const;

/**
 * Steps a circuit whose ports are solved by Newton's method with junction limiting and line search; where that does not
 * settle, the port drive moves from that of the step before to this one's in shorter and shorter pieces (continuation).
 *
 * Method: Yeh, Abel and Smith's nonlinear state space (K-method), Proc. DAFx-07 [from memory].
 */
export function nonlinearStepper(first: StepModel, rest?: Float64Array): NonlinearStepper {
  let model = first;
  const {states, stages, outputs, method} = first;
  const smallestStep = smallestSteps[method];
  const m = first.laws.length;
  const state = rest ? first.stateOf(rest) : new Float64Array(states);
  const next = new Float64Array(states);
  const output = new Float64Array(outputs);
  const u = new Float64Array(stages);
  const [p, trial, drive, settled, target] = [0, 0, 0, 0, 0].map(() => new Float64Array(m)) as Five;
  const [value, slope, residual, delta, kept] = [0, 0, 0, 0, 0].map(() => new Float64Array(m)) as Five;
  const start = new Float64Array(m);
  const older = new Float64Array(m);
  const jacobian = new Float64Array(m * m);
  const point: LawPoint = {value: 0, slope: 0};

  /** Residual p − drive − K·f(p) at `at`; values and slopes are left behind. Returns its square sum. */
  const look = (at: Float64Array): number => {
    const {laws, K, tangents, shifts} = model;
    for (let k = 0; k < m; k++) {
      evaluate(laws[k]!, at[k]!, point);
      const tangent = tangents[k]!;
      value[k] = point.value - tangent * (at[k]! - shifts[k]!);
      slope[k] = point.slope - tangent;
    }
    let squares = 0;
    for (let i = 0, c = 0; i < m; i++) {
      let sum = at[i]! - drive[i]!;
      for (let k = 0; k < m; k++) sum -= K[c++]! * value[k]!;
      residual[i] = sum;
      squares += sum * sum;
    }
    return squares;
  };

  const newton = (): boolean => {
    const {laws, K} = model;
    let squares = look(p);
    for (let round = 0; round < newtonSteps; round++) {
      for (let i = 0, c = 0; i < m; i++) {
        for (let k = 0; k < m; k++, c++) jacobian[c] = (i === k ? 1 : 0) - K[c]! * slope[k]!;
        delta[i] = -residual[i]!;
      }
      if (!solveInPlace(m, jacobian, delta, 1)) return false;
      let last = true;
      for (let k = 0; k < m; k++) {
        trial[k] = limited(laws[k]!, p[k]!, p[k]! + delta[k]!);
        // Negated, so that a step that is no number does not count as small.
        if (!(Math.abs(delta[k]!) <= smallestStep * Math.max(1, Math.abs(p[k]!)))) last = false;
      }
      if (last) {
        // So near, the laws are their tangents; p and their values then satisfy p = drive + K·φ to the last digit.
        for (let k = 0; k < m; k++) {
          p[k]! += delta[k]!;
          value[k]! += slope[k]! * delta[k]!;
        }
        return true;
      }
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

  const follow = (): boolean => {
    let done = 0;
    let piece = 0.25;
    kept.set(settled);
    for (let count = 0; count < pathSteps; count++) {
      const to = Math.min(1, done + piece);
      for (let k = 0; k < m; k++) drive[k] = start[k]! + to * (target[k]! - start[k]!);
      p.set(kept);
      if (newton()) {
        if (to === 1) return true;
        kept.set(p);
        done = to;
        piece *= 2;
      } else piece *= 0.25;
      if (piece < 1e-9) break;
    }
    p.set(kept);
    drive.set(target);
    look(p);
    return false;
  };

  const step = (end: number, third = end): boolean => {
    const {D, E, F, A, B, H, C, L, M, O, N} = model;
    u[stages - 1] = end;
    if (stages > 1) u[0] = third;
    let good = true;
    if (m > 0) {
      for (let i = 0, d = 0, e = 0; i < m; i++) {
        let sum = F[i]!;
        for (let k = 0; k < states; k++) sum += D[d++]! * state[k]!;
        for (let k = 0; k < stages; k++) sum += E[e++]! * u[k]!;
        drive[i] = sum;
      }
      settled.set(p);
      // A first guess along the straight line through the last two points saves a round of Newton.
      for (let k = 0; k < m; k++) p[k] = limited(model.laws[k]!, settled[k]!, 2 * settled[k]! - older[k]!);
      older.set(settled);
      if (!newton()) {
        target.set(drive);
        // The drive that the ports stood at under these coefficients: an exact start of the path.
        drive.fill(0);
        look(settled);
        start.set(residual);
        good = follow();
      }
    }
    for (let i = 0, a = 0, b = 0, c = 0; i < states; i++) {
      let sum = H[i]!;
      for (let k = 0; k < states; k++) sum += A[a++]! * state[k]!;
      for (let k = 0; k < stages; k++) sum += B[b++]! * u[k]!;
      for (let k = 0; k < m; k++) sum += C[c++]! * value[k]!;
      next[i] = sum;
    }
    for (let i = 0, a = 0, b = 0, c = 0; i < outputs; i++) {
      let sum = O[i]!;
      for (let k = 0; k < states; k++) sum += L[a++]! * state[k]!;
      for (let k = 0; k < stages; k++) sum += M[b++]! * u[k]!;
      for (let k = 0; k < m; k++) sum += N[c++]! * value[k]!;
      output[i] = sum;
    }
    state.set(next);
    return good;
  };

  const inverse = new Float64Array(m * states);
  /** A + C·f'·(1 − K·f')⁻¹·D, by the implicit function theorem. */
  const sensitivity = (into: Float64Array): void => {
    const {A, C, D, K} = model;
    into.set(A);
    if (m === 0) return;
    inverse.set(D);
    for (let i = 0, c = 0; i < m; i++)
      for (let k = 0; k < m; k++, c++) jacobian[c] = (i === k ? 1 : 0) - K[c]! * slope[k]!;
    if (!solveInPlace(m, jacobian, inverse, states)) return;
    for (let i = 0; i < states; i++) {
      for (let j = 0; j < m; j++) {
        const factor = C[i * m + j]! * slope[j]!;
        for (let k = 0; k < states; k++) into[i * states + k]! += factor * inverse[j * states + k]!;
      }
    }
  };

  const use = (other: StepModel): void => {
    if (!sameShape(model, other)) throw new RangeError("a stepper can go on only with a model of its own shape");
    model = other;
  };
  return {state, output, ports: p, step, sensitivity, use};
}

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

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
