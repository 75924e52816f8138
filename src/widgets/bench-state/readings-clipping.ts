import {harmonicDistortion} from "../../engine/analysis/harmonic-distortion.ts";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "./bench-state.ts";
import {cycleOf, halfSwing, openAHz, withoutDiodes, type Cycle} from "./cycles.ts";
import {distortionText} from "./distortion-text.ts";

/** Levels at which a reader meets the stage below, at and far above clipping, in volts of peak: three stops of the level control. */
const [quietVolts, middleVolts, loudVolts] = [0.01, 0.1, 1];

const volts = (value: number) => formatQuantity(value, "V");
const times = (value: number) => formatQuantity(value, "");
const decibels = (ratio: number) => formatQuantity(20 * Math.log10(ratio), "dB");

const of = (text: (cycle: Cycle) => string, setting: (now: BenchSetting) => BenchSetting, peakVolts?: number) => {
  return ({now}: BenchView) => {
    const cycle = cycleOf(setting(now), peakVolts);
    return cycle ? text(cycle) : "no gain stage";
  };
};
const asIs = (now: BenchSetting) => now;
const outputPeak = ({output}: Cycle) => halfSwing(output);
const gain = ({input, output}: Cycle) => halfSwing(output) / halfSwing(input);
/** As a ratio and in decibels: a lesson speaks of the one, its curve shows the other. */
const bothWays = (cycle: Cycle) => `${times(gain(cycle))} or ${decibels(gain(cycle))}`;
const distortion = ({harmonics}: Cycle) => distortionText(harmonicDistortion(harmonics).ofFundamental);
const harmonic =
  (n: number) =>
  ({harmonics: {amplitude}}: Cycle) =>
    decibels(Math.max(1e-4, (amplitude[n] ?? 0) / (amplitude[1] ?? 1)));
const rise =
  (from: number, to: number) =>
  ({now}: BenchView) => {
    const [low, high] = [cycleOf(now, from), cycleOf(now, to)];
    return low && high ? decibels(outputPeak(high) / outputPeak(low)) : "no gain stage";
  };

/** Readings of the clipping stage at the open A string. Each needs a whole settled cycle: they follow when the bench rests. */
export const clippingReadings = {
  openA: () => formatQuantity(openAHz, "Hz"),
  quietLevel: () => volts(quietVolts),
  middleLevel: () => volts(middleVolts),
  loudLevel: () => volts(loudVolts),
  levelStep: () => decibels(loudVolts / middleVolts),

  clippingInput: of(({input}) => volts(halfSwing(input)), asIs),
  clippingOutput: of((cycle) => volts(outputPeak(cycle)), asIs),
  outputWithoutDiodes: of((cycle) => volts(outputPeak(cycle)), withoutDiodes),
  levelFall: ({now}) => {
    const [here, there] = [cycleOf(now), cycleOf(withoutDiodes(now))];
    return here && there ? decibels(outputPeak(there) / outputPeak(here)) : "no gain stage";
  },
  acrossDiodes: of(({input, output}) => volts(halfSwing(output.map((each, k) => each - (input[k] ?? 0)))), asIs),
  distortion: of(distortion, asIs),
  distortionWithoutDiodes: of(distortion, withoutDiodes),
  thirdHarmonic: of(harmonic(3), asIs),
  fifthHarmonic: of(harmonic(5), asIs),

  quietOutput: of((cycle) => volts(outputPeak(cycle)), asIs, quietVolts),
  middleOutput: of((cycle) => volts(outputPeak(cycle)), asIs, middleVolts),
  loudOutput: of((cycle) => volts(outputPeak(cycle)), asIs, loudVolts),
  quietGain: of(bothWays, asIs, quietVolts),
  middleGain: of(bothWays, asIs, middleVolts),
  loudGain: of(bothWays, asIs, loudVolts),
  quietGainWithoutDiodes: of((cycle) => times(gain(cycle)), withoutDiodes, quietVolts),
  riseBelow: rise(quietVolts, middleVolts),
  riseAbove: rise(middleVolts, loudVolts),
} satisfies Record<string, (view: BenchView) => string>;
