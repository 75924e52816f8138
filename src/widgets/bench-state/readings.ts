import {frequencyResponse, magnitude, magnitudeDb, phaseDegrees} from "../../engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../engine/analysis/impedance.ts";
import {without} from "../../engine/circuit/changes.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import {
  controlsOf,
  courseCircuit,
  wireSetting,
  type BenchSetting,
  type ControlName,
} from "../../engine/course/course-circuit.ts";
import {
  faradsOf,
  inputCornerHz,
  loadOhms,
  ohmsOf,
  parallelOhms,
  pickupHenries,
  resonanceHz,
  wireFarads,
} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Unit} from "../../engine/quantities/unit.ts";
import type {BenchView} from "./bench-state.ts";
import {circuitOf, gainDbAt, responseOf} from "./curves.ts";
import {clippingReadings} from "./readings-clipping.ts";
import {gainStageReadings} from "./readings-gain-stage.ts";
import {phraseReadings} from "./readings-phrase.ts";

/** Open low E of a guitar in equal temperament on A = 440 Hz (ISO 16), in hertz. */
export const lowEHz = 440 * 2 ** (-29 / 12);
/** Where the middle and the treble of a curve are read, in hertz: our choice. */
export const middleHz = 1000;
export const trebleHz = 5000;

const start = (lesson: number, name: ControlName) => controlsOf(lesson).find((each) => each.name === name)?.start ?? 0;
const place = ({lesson, settings}: BenchSetting, name: ControlName) => settings[name] ?? start(lesson, name);
const gain = (frequencyHz: number) => (view: BenchView) => decibels(gainDbAt(view.now, frequencyHz));
const change = (frequencyHz: number) => (view: BenchView) =>
  decibels(Math.abs(gainDbAt(view.now, frequencyHz) - gainDbAt(view.held, frequencyHz)));
const decibels = (value: number) => formatQuantity(value, "dB");
const of = (unit: Unit, value: (circuit: Circuit, view: BenchView) => number) => (view: BenchView) =>
  formatQuantity(value(circuitOf(view.now), view), unit);
const peak = (setting: BenchSetting) => responseOf(setting).corners.find(({kind}) => kind === "peak");
const noPeak = "no hump";

/** |Z| of the guitar with its cable, seen from the amplifier, which is taken away; in ohms. */
function sourceOhms({now}: BenchView, frequencyHz: number): number {
  const {circuit, listenAt} = courseCircuit(now);
  const alone = ["amplifier resistance", "amplifier cable"].reduce(
    (left, ref) => (left.parts.some((part) => part.ref === ref) ? without(left, ref) : left),
    circuit,
  );
  return magnitude(outputImpedance(alone, listenAt, Float64Array.of(frequencyHz)))[0] ?? Number.NaN;
}

/** Gain from the near end of C1's filter to the listening node, so that the guitar's own curve is left out. */
function filterResponse({now}: BenchView, frequencyHz: number) {
  const {circuit} = courseCircuit(now);
  const driven = circuit.parts
    .filter(({ref}) => !ref.startsWith("pickup") && ref !== "guitar volume" && ref !== "cable")
    .map((part) =>
      part.kind === "voltage source" && part.signal === true ? {...part, nodes: ["in", "0"] as const} : part,
    );
  const nodes = circuit.nodes.filter((node) => driven.some((part) => (part.nodes as readonly string[]).includes(node)));
  return frequencyResponse({parts: driven, nodes}, "p", Float64Array.of(frequencyHz));
}

/** Readings that take too long for every move: they follow when the bench rests. */
export const atRestReadings = {...clippingReadings, ...phraseReadings};

/**
 * Named readings that prose may quote. Each is computed by the engine from the bench; the same function prints it while
 * the site is built and moves it on the page.
 */
export const readings = {
  lowE: () => formatQuantity(lowEHz, "Hz"),
  middle: () => formatQuantity(middleHz, "Hz"),
  treble: () => formatQuantity(trebleHz, "Hz"),

  gainLowE: gain(lowEHz),
  gainMiddle: gain(middleHz),
  gainTreble: gain(trebleHz),
  gain10k: gain(10_000),
  changeLowE: change(lowEHz),
  changeMiddle: change(middleHz),
  changeTreble: change(trebleHz),
  lossLowE: (view) => decibels(gainDbAt(wireSetting, lowEHz) - gainDbAt(view.now, lowEHz)),

  cableLength: ({now}) => formatQuantity(place(now, "cable"), "m"),
  cableLengthBefore: ({held}) => formatQuantity(place(held, "cable"), "m"),
  cableCapacitance: of("F", (circuit) => faradsOf(circuit, "cable")),
  amplifierCapacitance: of("F", (circuit) => faradsOf(circuit, "amplifier cable")),
  amplifierOhms: of("Ω", (circuit) => ohmsOf(circuit, "amplifier resistance")),
  pickupInductance: of("H", pickupHenries),
  pickupCapacitance: of("F", (circuit) => faradsOf(circuit, "pickup capacitance")),
  wireCapacitance: of("F", wireFarads),
  resonanceByFormula: of("Hz", resonanceHz),
  resonance: ({now}) => formatOr(peak(now)?.frequencyHz, "Hz"),
  resonanceBefore: ({held}) => formatOr(peak(held)?.frequencyHz, "Hz"),
  peakGain: ({now}) => formatOr(peak(now)?.gainDb, "dB"),
  peakGainBefore: ({held}) => formatOr(peak(held)?.gainDb, "dB"),
  sourceImpedanceMiddle: (view) => formatQuantity(sourceOhms(view, middleHz), "Ω"),
  sourceImpedancePeak: (view) => formatQuantity(sourceOhms(view, peak(view.now)?.frequencyHz ?? trebleHz), "Ω"),
  meterAtPlug: of("Ω", (circuit) => {
    const volume = circuit.parts.find(({ref}) => ref === "guitar volume");
    return parallelOhms(
      ohmsOf(circuit, "pickup resistance"),
      volume?.kind === "potentiometer" ? volume.ohms : Infinity,
    );
  }),

  R1: of("Ω", (circuit) => ohmsOf(circuit, "R1")),
  R2: of("Ω", (circuit) => ohmsOf(circuit, "R2")),
  C1: of("F", (circuit) => faradsOf(circuit, "C1")),
  loadOhms: of("Ω", loadOhms),
  inputCorner: of("Hz", inputCornerHz),
  inputCornerUnplugged: ({now}) =>
    formatQuantity(inputCornerHz(circuitOf({...now, settings: {...now.settings, amplifier: 0}})), "Hz"),
  slopeBelowCorner: (view) => {
    const corner = inputCornerHz(circuitOf(view.now));
    const [low = 0, high = 0] = [corner / 16, corner / 8].map((f) => magnitudeDb(filterResponse(view, f))[0] ?? 0);
    return decibels(high - low);
  },
  phaseAtCorner: (view) =>
    formatQuantity(phaseDegrees(filterResponse(view, inputCornerHz(circuitOf(view.now))))[0] ?? 0, "°", {figures: 2}),
  benchPeak: (view) => {
    const level = courseCircuit(view.now).phrasePeakVolts;
    return formatQuantity(level * (magnitude(filterResponse(view, middleHz))[0] ?? 0), "V");
  },
  phrasePeak: ({now}) => formatQuantity(courseCircuit(now).phrasePeakVolts, "V"),
  lossOfR1: (view) => {
    const bare = {
      ...view.now,
      settings: {...view.now.settings, R1: controlsOf(2).find(({name}) => name === "R1")?.values[0] ?? 0},
    };
    return decibels(gainDbAt(bare, trebleHz) - gainDbAt(view.now, trebleHz));
  },

  ...gainStageReadings,
  ...atRestReadings,
} satisfies Record<string, (view: BenchView) => string>;

/** Names that prose may quote; a misspelt one fails the type check. */
export type ReadingName = keyof typeof readings;

function formatOr(value: number | undefined, unit: Unit): string {
  return value === undefined ? noPeak : formatQuantity(value, unit);
}

/** The readings a lesson's formulas and text use, printed from its start: what the page shows before anything moves. */
export function readingText(name: ReadingName, view: BenchView): string {
  const read: (view: BenchView) => string = readings[name];
  return read(view);
}
