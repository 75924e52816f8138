// The clipping stage against scipy's solve_ivp at rtol 1e-6 (atol 1e-9): time for the same sound, and both errors against Radau at rtol 1e-10.
import {spawnSync} from "node:child_process";
import {join} from "node:path";
import {gainStageStepper, sineInput} from "./support/gain-stage.ts";
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
  const ours = settings.map(([method, oversampling]) => {
    const rate = rateHz * oversampling;
    const steps = reference.length * oversampling;
    const input = sineInput(frequencyHz, peakVolts, rate, steps, method);
    const output = new Float64Array(steps);
    const seconds = shortestSeconds(() => gainStageStepper(rate, method).run(input, output), 7);
    for (let k = 0; k < out.length; k++) out[k] = output[(k + 1) * oversampling - 1]!;
    const errorDb = 10 * Math.log10(squares(out.map((value, k) => value - reference[k]!)) / squares(reference));
    const name = `ours,-${method.replaceAll(" ", "-")}-at-${oversampling}-×-48-kHz`;
    console.log(`figure ${name},-error-in-dB ${errorDb.toFixed(1)}`);
    console.log(`figure ${name},-seconds-for-one-second ${(seconds / soundSeconds).toFixed(3)}`);
    return {seconds, errorDb};
  });
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
