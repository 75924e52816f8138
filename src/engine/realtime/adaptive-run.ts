/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is inside its array by the loops that make it */
import {CircuitError} from "../circuit/circuit-error.ts";
import {stepCurve} from "./step-curve.ts";
import {outcomes} from "./radau-five-step.ts";
import {stageNodes} from "./radau-five.ts";
import {mostGrowth, rungsPerOctave, type StepLadder} from "./step-ladder.ts";

/** What a step may err by: `relative` to each memory and output, and beside that `volts`. */
export type Tolerance = Readonly<{relative: number; volts: number}>;

/** A circuit on its way through time, with steps as long as its tolerance lets them be. */
export type AdaptiveRun = Readonly<{
  /**
   * Goes on to the last of `seconds`, and writes the outputs at each of them into `into`, side by side.
   *
   * @param seconds rising, none of them before one that was given earlier
   * @throws {CircuitError} if a step has no solution
   */
  advance: (seconds: Float64Array, into: Float64Array) => void;
  /** Steps made, and attempts that were given up because of their error or for want of a solution. */
  count: Readonly<Record<"made" | "inaccurate" | "unsolved", number>>;
}>;

/**
 * Starts a run at 0 s.
 *
 * A run takes the ladder's memory for itself: a new run on the same ladder ends the one before.
 *
 * Method: step lengths by Gustafsson's predictive controller, as in Hairer and Wanner, Solving ODEs II, section IV.8 [from memory].
 *
 * @param start what each store holds at first
 * @param resting whether `start` is the rest without a signal, and no other memory
 * @param signal volts of the signal source over time in seconds; it is asked up to one longest step beyond the last time wanted
 */
export function adaptiveRun(
  ladder: StepLadder,
  start: Float64Array,
  signal: (seconds: number) => number,
  {relative, volts}: Tolerance,
  resting = false,
): AdaptiveRun {
  const {step, outputs: width, seconds: lengths} = ladder;
  const {tolerance, state, slope, points, input, output, error, attempt, attemptHard} = step;
  const [first, second] = stageNodes;
  const count = {made: 0, inaccurate: 0, unsolved: 0};
  const curve = stepCurve(width, output);
  const {coefficients} = curve;
  let rung = firstRung;
  let rungBefore = -Infinity;
  let [begin, end] = [0, 0];
  let drawn = false;
  /** Logarithm of the last step's error, for the controller. */
  let logBefore = Number.NaN;

  const tryStep = (plays: boolean): number => {
    const length = lengths[rung]!;
    if (plays) {
      input[0] = signal(end + first * length);
      input[1] = signal(end + second * length);
      input[2] = signal(end + length);
    }
    const [model, guess] = [ladder.model(rung), ladder.guess(rung - rungBefore)];
    const outcome = attempt(model, guess);
    // At the start nothing is known of where the laws stand, and where shortening has not helped they jump.
    const hard = outcome === outcomes.unsolved && (count.made === 0 || length < shortestSeconds);
    return hard ? attemptHard(model, guess) : outcome;
  };
  const shorten = (outcome: number): void => {
    if (outcome === outcomes.unsolved) {
      count.unsolved++;
      rung += 2 * rungsPerOctave;
    } else {
      count.inaccurate++;
      // Negated, so that an error that is no number shortens the step as well.
      const octaves = !(error[0]! < 1e4) ? -3 : safety - 0.25 * Math.log2(error[0]!);
      rung += Math.max(1, Math.ceil(-octaves * rungsPerOctave));
    }
    if (rung < lengths.length) return;
    const what = outcome === outcomes.unsolved ? "solution" : "step short enough for its tolerance";
    throw new CircuitError(`the response finds no ${what} near ${end.toPrecision(3)} s`);
  };
  /** A step of any error before the start, through the signal or in silence. */
  const stepBefore = (plays: boolean): void => {
    tolerance[1] = Infinity;
    for (let outcome = tryStep(plays); outcome !== outcomes.good; outcome = tryStep(plays)) shorten(outcome);
    tolerance[1] = 1;
  };
  const origin = Float64Array.from(start);
  /** How the memory moves at the start nobody knows: the end of a step tells, and then the memory is as it was. */
  const feelSlope = (): void => {
    stepBefore(true);
    state.set(origin);
  };
  /** One step that is good enough, and the length of the next. */
  const go = (): void => {
    for (let outcome = tryStep(true); outcome !== outcomes.good; outcome = tryStep(true)) {
      shorten(outcome);
      if (count.made === 0) feelSlope();
    }
    count.made++;
    drawn = false;
    begin = end;
    end += lengths[rung]!;
    const log = Math.log2(Math.max(1e-10, error[0]!));
    let octaves = safety - 0.25 * log;
    // No number before the second step, and no reason to hold back then.
    const predicted = safety + (rungBefore - rung) / rungsPerOctave + 0.25 * (logBefore - 2 * log);
    if (predicted < octaves) octaves = Math.max(predicted, mostShortening);
    logBefore = Math.max(leastLog, log);
    rungBefore = rung;
    curve.after(rung);
    const shorter = Math.floor(octaves * rungsPerOctave + 0.1);
    rung = Math.max(0, Math.min(lengths.length - 1, rung - Math.min(mostGrowth, shorter)));
  };

  tolerance.set([relative, Infinity, volts, ...ladder.perVolt.map((each) => each * volts)]);
  state.set(start);
  for (const each of [slope, points, output, input]) each.fill(0);
  if (resting) {
    stepBefore(false);
    for (let more = 0; more < restingSteps && error[0]! > 1; more++) stepBefore(false);
    origin.set(state);
  } else feelSlope();

  const advance = (seconds: Float64Array, into: Float64Array): void => {
    for (let n = 0; n < seconds.length; n++) {
      const time = seconds[n]!;
      while (time > end || count.made === 0) go();
      if (!drawn) curve.draw();
      drawn = true;
      const x = (time - begin) / (end - begin);
      for (let k = 0, c = 0; k < width; k++, c += 5) {
        into[n * width + k] =
          coefficients[c]! +
          x *
            (coefficients[c + 1]! + x * (coefficients[c + 2]! + x * (coefficients[c + 3]! + x * coefficients[c + 4]!)));
      }
    }
  };
  return {advance, count};
}

/** The first attempt's rung: a 4096th of the longest step. */
const firstRung = 12 * rungsPerOctave;
/** Logarithm of the share of the step the error would allow that is taken. */
const safety = Math.log2(0.9);
/** A good step is followed by one that is hardly shorter: its error may be noise, which no length takes away. */
const mostShortening = -0.5;
/** An error smaller than a hundredth counts as that much in what follows from it. */
const leastLog = Math.log2(0.01);
/** A rest in which an op-amp's supply counts is none without it: what hurries away from there has gone after some steps. */
const restingSteps = 20;
/** Where there is no solution in a step as short as that, shortening does not help. */
const shortestSeconds = 1e-9;
