import {frequencyResponse, magnitude, magnitudeDb, phaseDegrees} from "../../engine/analysis/frequency-response.ts";
import {partNamed, valued, withPart} from "../../engine/circuit/changes.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import {courseCircuit, wireSetting} from "../../engine/course/course-circuit.ts";
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
import {circuitOf, gainDbAt} from "./curves.ts";
import {changeText, gainText, lowEHz, middleHz, placeOf, printedDifferenceDb, trebleHz} from "./read-curve.ts";
import {clauseReadings} from "./readings-clauses.ts";
import {clippingClauses, clippingReadings} from "./readings-clipping.ts";
import {gainStageReadings} from "./readings-gain-stage.ts";
import {phraseReadings} from "./readings-phrase.ts";

export {lowEHz, middleHz, trebleHz} from "./read-curve.ts";

const gain = (frequencyHz: number) => (view: BenchView) => gainText(gainDbAt(view.now, frequencyHz));
const change = (frequencyHz: number) => (view: BenchView) =>
  changeText(Math.abs(printedDifferenceDb(gainDbAt(view.now, frequencyHz), gainDbAt(view.held, frequencyHz))));
const of = (unit: Unit, value: (circuit: Circuit, view: BenchView) => number) => (view: BenchView) =>
  formatQuantity(value(circuitOf(view.now), view), unit);

/** What a scope sets against a current through a probe at ×10 and at ×1, in ohms: common practice, no published source. */
const [probeOhms, plainProbeOhms] = [10e6, 1e6];

/** R2 with a probe across it: one resistor of what the two are side by side. */
const besideR2 = (circuit: Circuit, ohms: number) =>
  valued(partNamed(circuit, "R2"), parallelOhms(ohmsOf(circuit, "R2"), ohms));

/**
 * Gain from the near end of C1's filter to the listening node, so that the guitar's own curve is left out; as the formula of the
 * corner has it, without the amplifier's cable as well.
 */
function filterResponse(
  {now}: BenchView,
  frequencyHz: number,
  {byFormula = false, probed = false}: {byFormula?: boolean; probed?: boolean} = {},
) {
  const {circuit: alone} = courseCircuit(now);
  const circuit = probed ? withPart(alone, besideR2(alone, probeOhms)) : alone;
  const driven = circuit.parts
    .filter(({ref}) => !ref.startsWith("pickup") && ref !== "guitar volume" && ref !== "cable")
    .filter(({ref}) => !(byFormula && ref === "amplifier cable"))
    .map((part) =>
      part.kind === "voltage source" && part.signal === true ? {...part, nodes: ["in", "0"] as const} : part,
    );
  const nodes = circuit.nodes.filter((node) => driven.some((part) => (part.nodes as readonly string[]).includes(node)));
  return frequencyResponse({parts: driven, nodes}, "p", Float64Array.of(frequencyHz));
}

/** Readings that take too long for every move: they follow when the bench rests. */
export const atRestReadings = {...clippingReadings, ...clippingClauses, ...phraseReadings};

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
  lossLowE: (view) => changeText(printedDifferenceDb(gainDbAt(wireSetting, lowEHz), gainDbAt(view.now, lowEHz))),

  cableLength: ({now}) => formatQuantity(placeOf(now, "cable"), "m"),
  cableLengthBefore: ({held}) => formatQuantity(placeOf(held, "cable"), "m"),
  cableCapacitance: of("F", (circuit) => faradsOf(circuit, "cable")),
  amplifierCapacitance: ({now}) => {
    const farads = faradsOf(circuitOf(now), "amplifier cable");
    return farads > 0 ? formatQuantity(farads, "F") : "none while it is unplugged";
  },
  amplifierOhms: of("Ω", (circuit) => ohmsOf(circuit, "amplifier resistance")),
  pickupInductance: of("H", pickupHenries),
  pickupCapacitance: of("F", (circuit) => faradsOf(circuit, "pickup capacitance")),
  wireCapacitance: of("F", wireFarads),
  resonanceByFormula: of("Hz", resonanceHz),
  ...clauseReadings,
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
  lossOctaveBelow: () => gainText(10 * Math.log10(1 + 2 ** 2)),
  slopeBelowCorner: (view) => {
    // So far below that nothing of the bend is left, wherever the amplifier's cable has put it.
    const corner = inputCornerHz(circuitOf(view.now));
    const [low = 0, high = 0] = [corner / 256, corner / 128].map((f) => magnitudeDb(filterResponse(view, f))[0] ?? 0);
    return gainText(high - low);
  },
  phaseAtCorner: (view) => {
    const response = filterResponse(view, inputCornerHz(circuitOf(view.now)), {byFormula: true});
    return formatQuantity(phaseDegrees(response)[0] ?? 0, "°", {figures: 2});
  },
  benchPeak: (view) => {
    const level = courseCircuit(view.now).phrasePeakVolts;
    return formatQuantity(level * (magnitude(filterResponse(view, middleHz, {probed: true}))[0] ?? 0), "V");
  },
  probeOhms: () => formatQuantity(probeOhms, "Ω"),
  plainProbeOhms: () => formatQuantity(plainProbeOhms, "Ω"),
  cornerWithProbe: of("Hz", (circuit) => inputCornerHz(withPart(circuit, besideR2(circuit, probeOhms)))),
  cornerWithPlainProbe: of("Hz", (circuit) => inputCornerHz(withPart(circuit, besideR2(circuit, plainProbeOhms)))),
  phrasePeak: ({now}) => formatQuantity(courseCircuit(now).phrasePeakVolts, "V"),

  ...gainStageReadings,
  ...atRestReadings,
} satisfies Record<string, (view: BenchView) => string>;

/** Names that prose may quote; a misspelt one fails the type check. */
export type ReadingName = keyof typeof readings;

/** The readings a lesson's formulas and text use, printed from its start: what the page shows before anything moves. */
export function readingText(name: ReadingName, view: BenchView): string {
  const read: (view: BenchView) => string = readings[name];
  return read(view);
}
