import {magnitude} from "../../engine/analysis/frequency-response.ts";
import {operatingPoint, restVoltage} from "../../engine/analysis/operating-point.ts";
import {responseOf} from "../../engine/analysis/response-of.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import type {NodeName, Part} from "../../engine/circuit/part.ts";
import {startSetting, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {faradsOf, fullGain, gainOhms, legCornerHz, lowerLegCornerHz, ohmsOf} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Unit} from "../../engine/quantities/unit.ts";
import type {BenchView} from "./bench-state.ts";
import {circuitOf} from "./curves.ts";
import {placeOf} from "./read-curve.ts";

/** Open low E and D in equal temperament on A = 440 Hz (ISO 16), in hertz. */
const [lowEHz, stringDHz] = [440 * 2 ** (-29 / 12), 440 * 2 ** (-19 / 12)];
/** Where the mids are read, in hertz: our choice. */
export const midsHz = 2000;
/** A generator as one sets it to look at a stage of high gain, in volts and hertz: our choice. */
const [generatorVolts, generatorHz] = [0.01, 1000];

const gainAt = (circuit: Circuit, output: NodeName, frequencyHz: number) =>
  magnitude(responseOf(heard(circuit), output)(Float64Array.of(frequencyHz)))[0] ?? Number.NaN;

/** The same circuit with a guitar's volume that is all the way down turned full up: a stage gains the same, with or without a note. */
function heard(circuit: Circuit): Circuit {
  const isDown = (part: Part) => part.ref === "guitar volume" && "position" in part && part.position === 0;
  if (!circuit.parts.some(isDown)) return circuit;
  return {...circuit, parts: circuit.parts.map((part) => (isDown(part) ? ({...part, position: 1} as Part) : part))};
}

/** Gain of the op-amp stage alone in decibels, from its + input to its output. */
export function stageGainDb(circuit: Circuit, frequencyHz: number): number {
  return 20 * Math.log10(gainAt(circuit, "o", frequencyHz) / gainAt(circuit, "p", frequencyHz));
}

/** By how many decibels the low E trails the mids at the op-amp. */
export const trailDb = (circuit: Circuit) => stageGainDb(circuit, midsHz) - stageGainDb(circuit, lowEHz);

const turned = (setting: BenchSetting, rotation: number) =>
  circuitOf({...setting, settings: {...setting.settings, RV1: rotation}});

const startTurn = ({lesson}: BenchSetting) => placeOf(startSetting(lesson), "RV1");

/** The stage of lesson 5 with its leg straight to ground and the gain full up: C3 a wire. */
const shortedLeg: BenchSetting = {lesson: 5, settings: {leg: 1, RV1: 1}};

const atRest = (circuit: Circuit, node: NodeName) => formatQuantity(restVoltage(operatingPoint(circuit), node), "V");

const of = (unit: Unit, value: (circuit: Circuit) => number) => (view: BenchView) =>
  formatQuantity(value(circuitOf(view.now)), unit);
const stage = (frequencyHz: number) => of("dB", (circuit) => stageGainDb(circuit, frequencyHz));

/** Readings of the gain stage and its leg. */
export const gainStageReadings = {
  stringD: () => formatQuantity(stringDHz, "Hz"),
  mids: () => formatQuantity(midsHz, "Hz"),
  R3: of("Ω", (circuit) => ohmsOf(circuit, "R3")),
  C3: of("F", (circuit) => faradsOf(circuit, "C3")),
  // One figure more than usual: who divides what is printed gets the ratio that is printed.
  gainOhms: ({now}) => formatQuantity(gainOhms(circuitOf(now)), "Ω", {figures: 4}),
  gainOhmsDown: ({now}) => formatQuantity(gainOhms(turned(now, 0)), "Ω"),
  /** What the divider adds to the one that always passes: RV1 over R3. */
  gainRatio: of("", (circuit) => fullGain(circuit) - 1),
  fullGain: of("", fullGain),
  legCorner: of("Hz", legCornerHz),
  lowerLegCorner: of("Hz", lowerLegCornerHz),
  stageGainLowE: stage(lowEHz),
  stageGainD: stage(stringDHz),
  stageGainMids: stage(midsHz),
  stageGainMidsDown: ({now}) => formatQuantity(stageGainDb(turned(now, 0), midsHz), "dB"),
  trail: of("dB", trailDb),
  trailDown: ({now}) => formatQuantity(trailDb(turned(now, 0)), "dB"),
  /** Where the gain control stands as the lesson starts. */
  startTurn: ({now}) => formatQuantity(100 * startTurn(now), "%"),
  trailStart: ({now}) => formatQuantity(trailDb(turned(now, startTurn(now))), "dB"),
  trailFull: ({now}) => formatQuantity(trailDb(turned(now, 1)), "dB"),
  outputAtRest: ({now}) => atRest(circuitOf(now), "o"),
  supplyAtRest: ({now}) => atRest(circuitOf(now), "vcc"),
  outputWithoutC3: () => atRest(circuitOf(shortedLeg), "o"),
  referenceAtRest: ({now}) => atRest(circuitOf(now), "ref"),
  generatorPeak: () => formatQuantity(generatorVolts, "V"),
  scopePeakFull: ({now}) => {
    const circuit = turned(now, 1);
    return formatQuantity(
      (generatorVolts * gainAt(circuit, "o", generatorHz)) / gainAt(circuit, "in", generatorHz),
      "V",
    );
  },
} satisfies Record<string, (view: BenchView) => string>;
