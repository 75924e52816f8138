// The clipping stage against scipy's solve_ivp at rtol 1e-6 (atol 1e-9): time for the same sound at the same moments, and both errors
// against Radau at rtol 1e-10. Both times are for a run from rest to the last output; the equations, machine code and models by step length
// are made before, once for a circuit, and shown by themselves.
import {spawnSync} from "node:child_process";
import {join} from "node:path";
import {gainStageLadder, gainStageRun, gainStageStepper, sineInput} from "./support/gain-stage.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

type Theirs = Readonly<{
  soundSeconds: number;
  frequencyHz: number;
  peakVolts: number;
  rateHz: number;
  runs: readonly Readonly<{method: string; seconds: number; errorDb: number}>[];
  reference: readonly number[];
}>;

/** Ours: method and steps a sample of 48 kHz. */
const settings = [
  ["trapezoidal", 8],
  ["Radau IIA", 8],
  ["Radau IIA", 13],
  ["Radau IIA", 18],
  ["Radau IIA", 22],
] as const;
/** What a step of our own choice may err by, relative and in volts. */
const tolerances = [1e-6, 3e-7, 1e-7] as const;
const found = spawnSync("python3", ["-c", "import scipy"]);
if (found.error ?? found.status !== 0)
  console.log("There is no Python with scipy here, so that comparison is left out.");
else compare();

function compare(): void {
  const ran = spawnSync("python3", [join(import.meta.dirname, "support/gain-stage.py")], {encoding: "utf8"});
  if (ran.status !== 0) throw new Error(ran.stderr);
  const {soundSeconds, frequencyHz, peakVolts, rateHz, runs, reference} = JSON.parse(ran.stdout) as Theirs;
  const out = new Float64Array(reference.length);
  const squares = (row: ArrayLike<number>) => Array.from(row).reduce((sum, value) => sum + value * value, 0);
  const errorDbOf = (row: Float64Array): number =>
    10 * Math.log10(squares(row.map((value, k) => value - reference[k]!)) / squares(reference));
  const shown = (name: string, seconds: number, errorDb: number) => {
    console.log(`figure ${name},-error-in-dB ${errorDb.toFixed(1)}`);
    console.log(`figure ${name},-seconds-for-one-second ${(seconds / soundSeconds).toPrecision(2)}`);
    return {seconds, errorDb};
  };
  const fixed = settings.map(([method, oversampling]) => {
    const rate = rateHz * oversampling;
    const steps = reference.length * oversampling;
    const input = sineInput(frequencyHz, peakVolts, rate, steps, method);
    const output = new Float64Array(steps);
    const seconds = shortestSeconds(() => gainStageStepper(rate, method).run(input, output), 7);
    for (let k = 0; k < out.length; k++) out[k] = output[(k + 1) * oversampling - 1]!;
    return shown(`ours,-${method.replaceAll(" ", "-")}-at-${oversampling}-×-48-kHz`, seconds, errorDbOf(out));
  });
  const moments = Float64Array.from(reference, (_, k) => (k + 1) / rateHz);
  const deriving = shortestSeconds(() => {
    gainStageRun(gainStageLadder(), frequencyHz, peakVolts, 1e-6).advance(moments.subarray(0, 1), out);
  }, 20);
  console.log(`figure ours,-equations-and-first-steps,-milliseconds ${(deriving * 1e3).toFixed(2)}`);
  const ladder = gainStageLadder();
  const chosen = tolerances.map((tolerance) => {
    const seconds = shortestSeconds(
      () => gainStageRun(ladder, frequencyHz, peakVolts, tolerance).advance(moments, out),
      200,
    );
    return shown(`ours,-Radau-IIA-of-order-5-within-${tolerance}`, seconds, errorDbOf(out));
  });
  const ours = [...fixed, ...chosen];
  for (const {method, seconds: theirs, errorDb: their} of runs) {
    console.log(`figure scipy-${method}-at-rtol-1e-6,-error-in-dB ${their.toFixed(1)}`);
    console.log(`figure scipy-${method}-at-rtol-1e-6,-seconds-for-one-second ${(theirs / soundSeconds).toFixed(1)}`);
  }
  // Every run of theirs meets whichever of our methods is quickest among those that err no more than it does.
  for (const {method, seconds: theirs, errorDb: their} of runs) {
    const asGood = ours.filter(({errorDb}) => errorDb <= their).map(({seconds}) => seconds);
    if (asGood.length === 0) console.log(`Neither of our methods comes as near as scipy's ${method} does: no ratio.`);
    else
      console.log(
        `ratio clipping-stage-against-scipy-${method}-at-no-more-error ${(theirs / Math.min(...asGood)).toFixed(1)} 150`,
      );
  }
}
