import {harmonicDistortion} from "../../engine/analysis/harmonic-distortion.ts";
import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "../bench-state/bench-state.ts";
import {cycleOf, halfSwing, openAHz, type Cycle} from "../bench-state/cycles.ts";
import {harmonicsPlot, harmonicsSummary} from "../harmonics/harmonics-plot.ts";
import {transferPlot, wavePlot} from "./cycle-plots.ts";

/** The drawings of a clipping figure by the place they go to, and what they say in words. */
export type ClippingFigure = Readonly<{
  drawings: Readonly<Record<string, SVGSVGElement>>;
  distortion: string;
  summary: string;
}>;

/** Sizes of the bars: in a column of text, and on a phone. */
const sizes = {
  wide: {width: 600, height: 190, compact: false},
  compact: {width: 340, height: 170, compact: true},
} as const;

/** The clipping figure of a bench; undefined where the bench has no gain stage. Both states get the input of now. */
export function clippingFigure({now, held}: BenchView, document: Document): ClippingFigure | undefined {
  const peakVolts = courseCircuit(now).phrasePeakVolts;
  const [cycle, before] = [cycleOf(now, peakVolts), cycleOf(held, peakVolts)];
  if (!cycle) return undefined;
  const peaks = cycle.harmonics.amplitude;
  const bars = (size: keyof typeof sizes) =>
    harmonicsPlot(peaks, {document, size: sizes[size], ...(before ? {before: before.harmonics.amplitude} : {})});
  const view = {now: cycle, before};
  return {
    drawings: {
      transfer: transferPlot(view, document),
      wave: wavePlot(view, document),
      wide: bars("wide"),
      compact: bars("compact"),
    },
    distortion: distortionText(cycle, before),
    summary: `${swingText(cycle, before)} ${harmonicsSummary(peaks)}`,
  };
}

function swingText(now: Cycle, before?: Cycle): string {
  const volts = (wave: Float64Array) => formatQuantity(halfSwing(wave), "V");
  const was = before ? `, before ${volts(before.output)}` : "";
  return `At ${formatQuantity(openAHz, "Hz")} and ${volts(now.input)} of peak at the input, the output reaches ${volts(now.output)}${was}.`;
}

function distortionText(now: Cycle, before?: Cycle): string {
  const was = before ? `; before, ${percent(before)}` : "";
  return `Distortion, all harmonics together against the fundamental: ${percent(now)}${was}.`;
}

function percent({harmonics}: Cycle): string {
  const share = harmonicDistortion(harmonics).ofFundamental;
  return share < 1e-3 ? "less than 0.1\u00a0%" : formatQuantity(100 * share, "%", {figures: 2});
}
