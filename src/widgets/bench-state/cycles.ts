import {harmonicsOf, type Harmonics} from "../../engine/analysis/harmonics.ts";
import {operatingPoint, restVoltage} from "../../engine/analysis/operating-point.ts";
import {steadyCycle} from "../../engine/analysis/steady-cycle.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {circuitOf} from "./curves.ts";
import {benchKey} from "./bench-key.ts";
import {startNote} from "./notes.ts";

/** The open A string in hertz: the note that prose speaks of, and that cycles are drawn at first. */
export const openAHz = startNote.frequencyHz;

/**
 * One settled cycle of the gain stage in volts from where each rests without a note: op-amp's + input, its output, and the
 * output's harmonics. One diode alone lets the output's middle leave its rest.
 */
export type Cycle = Readonly<{input: Float64Array; output: Float64Array; harmonics: Harmonics}>;

// Two steps a point keep the figures that are printed (cycles.test.ts) and cost an eighth of the default's time.
const [points, stepsPerPoint] = [128, 2];

type Settled = Readonly<{heard: Float64Array; cycle?: Cycle}>;

/** By bench, note and level; the oldest go first. A page of every stop at every note holds fewer. */
const known = new Map<string, Settled>();
const kept = 200;
const [bare, whole] = [new WeakMap<BenchSetting, BenchSetting>(), new WeakMap<BenchSetting, BenchSetting>()];

/**
 * The cycle of a bench setting under a sine with `peakVolts` at the guitar's ideal source, by default the phrase's peak, at the
 * open A string unless `frequencyHz` says otherwise. Undefined where the bench has no gain stage.
 */
export function cycleOf(setting: BenchSetting, peakVolts?: number, frequencyHz = openAHz): Cycle | undefined {
  return settled(setting, peakVolts, frequencyHz).cycle;
}

/** One settled cycle in volts where the amplifier listens, without its steady part; arguments as of `cycleOf`. */
export function heardCycleOf(setting: BenchSetting, peakVolts?: number, frequencyHz = openAHz): Float64Array {
  return settled(setting, peakVolts, frequencyHz).heard;
}

/** The same bench with both its clipping diodes in, wherever their control stands. */
export function withDiodes(setting: BenchSetting): BenchSetting {
  if ((setting.settings["diodesFitted"] ?? 1) === 1) return setting;
  const found = whole.get(setting) ?? {...setting, settings: {...setting.settings, diodesFitted: 1}};
  whole.set(setting, found);
  return found;
}

/** The same bench with its clipping diodes lifted out. */
export function withoutDiodes(setting: BenchSetting): BenchSetting {
  const found = bare.get(setting) ?? {...setting, settings: {...setting.settings, diodesFitted: 0}};
  bare.set(setting, found);
  return found;
}

/** How far a wave goes up and down from where it rests, as printed; one figure where both are the same. */
export function swingText(wave: Float64Array): Readonly<{up: string; down: string; alike: boolean}> {
  const [up, down] = [Math.max(0, ...wave), -Math.min(0, ...wave)].map((volts) => formatQuantity(volts, "V"));
  return {up: up ?? "", down: down ?? "", alike: up === down};
}

/** Half the swing of a wave, from its lowest to its highest value. */
export const halfSwing = (wave: Float64Array) => (Math.max(...wave) - Math.min(...wave)) / 2;

function settled(setting: BenchSetting, peakVolts = courseCircuit(setting).phrasePeakVolts, frequencyHz: number) {
  const key = `${benchKey(setting)}|${frequencyHz}|${peakVolts}`;
  const found = known.get(key) ?? solved(setting, peakVolts, frequencyHz);
  known.set(key, found);
  const [oldest] = known.keys();
  if (known.size > kept && oldest !== undefined) known.delete(oldest);
  return found;
}

function solved(setting: BenchSetting, peakVolts: number, frequencyHz: number): Settled {
  const circuit = circuitOf(setting);
  const {listenAt} = courseCircuit(setting);
  const staged = circuit.nodes.includes("p") && circuit.nodes.includes("o");
  const nodes = staged ? [listenAt, "p", "o"] : [listenAt];
  const {at} = steadyCycle(circuit, {frequencyHz, peakVolts}, nodes, points, stepsPerPoint);
  const wave = (node: string) => at.get(node) ?? new Float64Array(points);
  const heard = from(middleOf(wave(listenAt)), wave(listenAt));
  if (!staged) return {heard};
  const rest = restOf(circuit);
  const output = from(rest.output, wave("o"));
  return {heard, cycle: {input: from(rest.input, wave("p")), output, harmonics: harmonicsOf(output)}};
}

const rests = new WeakMap<Circuit, Readonly<{input: number; output: number}>>();

/** Volts at which the stage's + input and output rest. */
function restOf(circuit: Circuit) {
  const known = rests.get(circuit);
  if (known) return known;
  const point = operatingPoint(circuit);
  const found = {input: restVoltage(point, "p"), output: restVoltage(point, "o")};
  rests.set(circuit, found);
  return found;
}

/** Less than this is what rounding leaves of silence, in volts. */
const silentVolts = 1e-9;

const middleOf = (wave: Float64Array) => wave.reduce((sum, volts) => sum + volts, 0) / wave.length;

/** A wave counted from `volts`. */
function from(volts: number, wave: Float64Array): Float64Array {
  if (halfSwing(wave) < silentVolts) return new Float64Array(wave.length);
  return wave.map((each) => each - volts);
}
