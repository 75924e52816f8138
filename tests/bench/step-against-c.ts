// One step of the clipping stage against a program in C written by hand for it, same model and method, compiled with -O3.
import {spawnSync} from "node:child_process";
import {mkdtempSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {gainStageStepper, sineInput} from "./support/gain-stage.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [steps, rate, frequencyHz, peakVolts] = [384_000, 384e3, 220, 0.3];
const folder = mkdtempSync(join(tmpdir(), "diode-clipper-"));
const program = join(folder, "diode-clipper");
const source = join(import.meta.dirname, "support/diode-clipper.c");
const compiled = spawnSync("cc", ["-O3", "-march=native", "-o", program, source, "-lm"], {encoding: "utf8"});
if (compiled.error) console.log("There is no C compiler here (cc), so the comparison with C is left out.");
else if (compiled.status !== 0) throw new Error(compiled.stderr);
else compare();
rmSync(folder, {recursive: true});

function compare(): void {
  const inC = Array.from({length: 5}, () => {
    const {stdout} = spawnSync(program, [steps, rate, frequencyHz, peakVolts].map(String), {encoding: "utf8"});
    const [nanoseconds = Number.NaN, rms = Number.NaN] = stdout.trim().split(" ").map(Number);
    return {nanoseconds, rms};
  }).sort((a, b) => a.nanoseconds - b.nanoseconds)[0]!;

  const signal = sineInput(frequencyHz, peakVolts, rate, steps, "trapezoidal");
  const output = new Float64Array(steps);
  let squares = 0;
  const seconds = shortestSeconds(() => {
    gainStageStepper(rate, "trapezoidal").run(signal, output);
    squares = 0;
    for (const volts of output) squares += volts ** 2;
  }, 9);
  const rms = Math.sqrt(squares / steps);
  if (!(Math.abs(rms / inC.rms - 1) < 1e-6)) throw new Error(`ours has an RMS of ${rms} V, C of ${inC.rms} V`);
  const nanoseconds = (seconds / steps) * 1e9;
  console.log(`figure clipping-stage,-nanoseconds-a-step-in-C ${inC.nanoseconds.toFixed(0)}`);
  console.log(`figure clipping-stage,-nanoseconds-a-step-ours ${nanoseconds.toFixed(0)}`);
  console.log(`ratio clipping-stage-against-hand-written-C ${(inC.nanoseconds / nanoseconds).toFixed(3)} 0.667`);
}
