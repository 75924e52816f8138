import {harmonicsOf, type Harmonics} from "../../engine/analysis/harmonics.ts";
import {steadyCycle} from "../../engine/analysis/steady-cycle.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {circuitOf} from "./curves.ts";

/** The open A string in equal temperament on A = 440 Hz (ISO 16), in hertz: the note that cycles are drawn at. */
export const openAHz = 110;

/** One settled cycle of the gain stage in volts, without its steady part: op-amp's + input, its output, and the output's harmonics. */
export type Cycle = Readonly<{input: Float64Array; output: Float64Array; harmonics: Harmonics}>;

// Two steps a point keep the figures that are printed (cycles.test.ts) and cost an eighth of the default's time.
const [points, stepsPerPoint] = [128, 2];

const known = new WeakMap<BenchSetting, Map<number, Cycle | undefined>>();
const bare = new WeakMap<BenchSetting, BenchSetting>();

/**
 * The cycle of a bench setting under a sine of the open A string with `peakVolts` at the guitar's ideal source, by default the
 * phrase's peak. Undefined where the bench has no gain stage.
 */
export function cycleOf(setting: BenchSetting, peakVolts = courseCircuit(setting).phrasePeakVolts): Cycle | undefined {
  const cycles = known.get(setting) ?? new Map<number, Cycle | undefined>();
  known.set(setting, cycles);
  if (!cycles.has(peakVolts)) cycles.set(peakVolts, solved(setting, peakVolts));
  return cycles.get(peakVolts);
}

/** The same bench with its clipping diodes lifted out. */
export function withoutDiodes(setting: BenchSetting): BenchSetting {
  const found = bare.get(setting) ?? {...setting, settings: {...setting.settings, diodesFitted: 0}};
  bare.set(setting, found);
  return found;
}

/** Half the swing of a wave, from its lowest to its highest value. */
export const halfSwing = (wave: Float64Array) => (Math.max(...wave) - Math.min(...wave)) / 2;

function solved(setting: BenchSetting, peakVolts: number): Cycle | undefined {
  const circuit = circuitOf(setting);
  if (!circuit.nodes.includes("p") || !circuit.nodes.includes("o")) return undefined;
  const {at} = steadyCycle(circuit, {frequencyHz: openAHz, peakVolts}, ["p", "o"], points, stepsPerPoint);
  const [input, output] = ["p", "o"].map((node) => swinging(at.get(node) ?? new Float64Array(points)));
  if (!input || !output) return undefined;
  return {input, output, harmonics: harmonicsOf(output)};
}

function swinging(wave: Float64Array): Float64Array {
  const mean = wave.reduce((sum, volts) => sum + volts, 0) / wave.length;
  return wave.map((volts) => volts - mean);
}
