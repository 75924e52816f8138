import type {Part} from "../../src/engine/circuit/part.ts";
import {fieldKinds, model, type FieldKind} from "./fields.ts";

/** Fields that a part or an analysis must and may have, beside its kind. */
export type Form = Readonly<{
  about: string;
  needs: Readonly<Record<string, FieldKind>>;
  may?: Readonly<Record<string, FieldKind>>;
}>;

const {text, number, positive, share, notNegative, taper, supply, numbers, points} = fieldKinds;
const on = fieldKinds.switch;

const diodeModel = model(["saturationCurrent", "emissionCoefficient", "thermalVoltage", "seriesOhms"]);
const opAmpModel = model(
  ["openLoopGain", "gainBandwidthHz", "inputOhms", "outputOhms"],
  [
    ...["slewVoltsPerSecond", "swingToPositiveVolts", "swingToNegativeVolts"],
    ...["voltageNoise", "currentNoise", "supplyAmperes"],
  ],
);

/** Every kind of part, its count of nodes and its fields. */
export const partForms: Readonly<Record<Part["kind"], Form & {nodes: number}>> = {
  resistor: {about: "Two nodes.", nodes: 2, needs: {ohms: positive}},
  capacitor: {about: "Two nodes.", nodes: 2, needs: {farads: positive}},
  inductor: {about: "Two nodes.", nodes: 2, needs: {henries: positive}},
  "variable resistor": {
    about: "Two nodes; position 0 to 1, end resistance in ohms.",
    nodes: 2,
    needs: {ohms: positive, position: share, taper, endOhms: notNegative},
    may: {middle: share, reversed: on},
  },
  potentiometer: {
    about: "Top, wiper, bottom.",
    nodes: 3,
    needs: {ohms: positive, position: share, taper},
    may: {middle: share, endOhms: notNegative},
  },
  "voltage source": {
    about: "Plus, minus.",
    nodes: 2,
    needs: {volts: number},
    may: {seriesOhms: notNegative, signal: on},
  },
  "current source": {about: "From, to.", nodes: 2, needs: {amperes: number}, may: {signal: on}},
  wire: {about: "Two nodes joined.", nodes: 2, needs: {}},
  diode: {about: "Anode, cathode.", nodes: 2, needs: {model: diodeModel, inSeries: fieldKinds.count}},
  "op-amp": {about: "Plus input, minus input, output.", nodes: 3, needs: {model: opAmpModel}, may: {supply}},
};

const output = {output: text};
const range = {lowHz: positive, highHz: positive};
const frequencies = {...range, points, frequenciesHz: numbers};
const levels = {frequencyHz: positive, peaksVolts: numbers};

/** Every kind of analysis and its fields. */
export const analysisForms = {
  "operating point": {about: "Volts of every node and amperes of every branch at rest.", needs: {}},
  "static transfer": {
    about: "Volts of the output at rest for each value of the signal.",
    needs: {...output, signalVolts: numbers},
  },
  "frequency response": {about: "Gain, phase and group delay.", needs: output, may: frequencies},
  corners: {about: "Peak, −3 dB points, slopes at both ends.", needs: output, may: {...range, referenceDb: number}},
  shelf: {about: "The two levels and two corners of a shelf; null if there is none.", needs: output, may: range},
  "input impedance": {about: "Ohms at a node without the signal source.", needs: {node: text}, may: frequencies},
  "output impedance": {about: "Ohms at a node, sources at rest.", needs: {node: text}, may: frequencies},
  noise: {about: "Density, integrated, A-weighted, each part's share.", needs: output, may: range},
  "time response": {
    about:
      "Volts of the output while the signal source plays a row of samples: in steps at oversampling times the rate, or within a tolerance.",
    needs: {...output, signalVolts: numbers, sampleRateHz: positive},
    may: {oversampling: fieldKinds.oversampling, tolerance: positive},
  },
  loudness: {
    about: "Loudness of the time response by ITU-R BS.1770, 1 V as full scale.",
    needs: {...output, signalVolts: numbers, sampleRateHz: positive},
    may: {oversampling: fieldKinds.oversampling, tolerance: positive},
  },
  "settled cycle": {
    about: "One cycle under a sine, once settled: waveform, transfer curve, harmonics, distortion, crest factor.",
    needs: {...output, frequencyHz: positive, peakVolts: positive},
    may: {points: fieldKinds.cyclePoints},
  },
  "level sweep": {about: "Peak, RMS, gain and distortion over level.", needs: {...output, ...levels}},
  compression: {about: "Output level over input level, slope, ratio, 1 dB point.", needs: {...output, ...levels}},
  "level response": {
    about: "Gain of the fundamental over frequency at several levels.",
    needs: {...output, peaksVolts: numbers},
    may: frequencies,
  },
  "two tones": {
    about: "Products and intermodulation of two sines, once settled.",
    needs: {...output, ...range, lowPeakVolts: positive, highPeakVolts: positive},
    may: {order: fieldKinds.order},
  },
  sensitivity: {about: "How gain and corners follow each part, d ln / d ln.", needs: output, may: frequencies},
  tolerance: {
    about: "Worst case, 5/50/95 % bands and which part pays, of the gain in decibels.",
    needs: output,
    may: {
      ...frequencies,
      byKind: fieldKinds.sharesByKind,
      byRef: fieldKinds.shares,
      runs: fieldKinds.runs,
      seed: fieldKinds.seed,
    },
  },
  "nearest values": {about: "Every part at the nearest value that is sold.", needs: {}},
  fault: {
    about: "Analyses of the circuit with one part broken.",
    needs: {ref: text, fault: fieldKinds.fault, analyses: fieldKinds.analyses},
    may: {value: positive, ohms: positive},
  },
} as const satisfies Readonly<Record<string, Form>>;

export type AnalysisKind = keyof typeof analysisForms;
