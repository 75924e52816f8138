import {harmonicDistortion} from "../../engine/analysis/harmonic-distortion.ts";
import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {atRestWorks, type Pair} from "../bench-state/at-rest-works.ts";
import type {BenchView} from "../bench-state/bench-state.ts";
import {halfSwing, swingText, type Cycle} from "../bench-state/cycles.ts";
import {distortionText} from "../bench-state/distortion-text.ts";
import type {LevelCurve} from "../bench-state/level-curve.ts";
import type {Note} from "../bench-state/notes.ts";
import {harmonicsPlot, harmonicsSummary} from "../harmonics/harmonics-plot.ts";
import type {Sketch} from "../sketch/sketch.ts";
import {transferPlot, wavePlot} from "./cycle-plots.ts";
import {gainPlot, levelSentence, peakPlot} from "./level-plots.ts";

/** What a clipping figure is drawn from: cycles at one note and level, and the curves of that note over all levels. */
export type ClippingFacts = Readonly<{
  note: Note;
  levelVolts: number;
  cycles: Pair<Cycle>;
  curves: Pair<LevelCurve>;
}>;

/** The drawings of a clipping figure by the place they go to, and its sentences by theirs. */
export type ClippingFigure = Readonly<{
  drawings: Readonly<Record<string, Sketch>>;
  sentences: Readonly<Record<"swing" | "distortion" | "harmonics" | "levels", string>>;
}>;

/** Sizes of the bars: in a column of text, and on a phone. */
const sizes = {
  wide: {width: 600, height: 190, compact: false},
  compact: {width: 340, height: 170, compact: true},
} as const;

/** Works out what the figure of a bench is drawn from: a part of a second. Both states get the input of now. */
export function clippingFacts(view: BenchView, note: Note): ClippingFacts {
  const {frequencyHz} = note;
  const levelVolts = courseCircuit(view.now).phrasePeakVolts;
  const cycles = atRestWorks.cycles(view, {frequencyHz, peakVolts: levelVolts});
  return {note, levelVolts, cycles, curves: atRestWorks.levelCurves(view, {frequencyHz})};
}

/** The clipping figure of these facts; undefined where the bench has no gain stage. */
export function clippingFigure(facts: ClippingFacts): ClippingFigure | undefined {
  const {cycles, curves, levelVolts, note} = facts;
  const {now, before} = cycles;
  if (!now) return undefined;
  const peaks = now.harmonics.amplitude;
  const bars = (size: keyof typeof sizes) =>
    harmonicsPlot(peaks, {size: sizes[size], ...(before ? {before: before.harmonics.amplitude} : {})});
  const overLevel = {curves, levelVolts};
  return {
    drawings: {
      transfer: transferPlot({now, before}),
      wave: wavePlot({now, before}),
      wide: bars("wide"),
      compact: bars("compact"),
      peak: peakPlot(overLevel),
      gain: gainPlot(overLevel),
    },
    sentences: {
      swing: swingSentence(note, now, before),
      distortion: distortionSentence(now, before),
      harmonics: harmonicsSummary(peaks),
      levels: levelSentence(curves),
    },
  };
}

function swingSentence({frequencyHz}: Note, now: Cycle, before?: Cycle): string {
  const volts = (wave: Float64Array) => formatQuantity(halfSwing(wave), "V");
  const reach = ({output}: Cycle) => {
    const {up, down, alike} = swingText(output);
    return alike ? up : `${up} up and ${down} down`;
  };
  const was = before ? `, before ${reach(before)}` : "";
  return `At ${formatQuantity(frequencyHz, "Hz")} and ${volts(now.input)} of peak at the input, the output reaches ${reach(now)}${was}.`;
}

function distortionSentence(now: Cycle, before?: Cycle): string {
  const share = ({harmonics}: Cycle) => distortionText(harmonicDistortion(harmonics).ofFundamental);
  const was = before ? `; before, ${share(before)}` : "";
  return `Distortion, all harmonics together against the fundamental: ${share(now)}${was}.`;
}
