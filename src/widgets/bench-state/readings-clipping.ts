import {harmonicDistortion} from "../../engine/analysis/harmonic-distortion.ts";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "./bench-state.ts";
import {cycleOf, halfSwing, openAHz, swingText, withDiodes, withoutDiodes, type Cycle} from "./cycles.ts";
import {distortionText} from "./distortion-text.ts";

/** Levels at which a reader meets the stage below, at and far above clipping, in volts of peak: three stops of the level control. */
const [quietVolts, middleVolts, loudVolts] = [0.01, 0.1, 1];
/** Where the gain control still decides how much is bent: a stop of the level control, in volts of peak. */
const softVolts = 0.025;

const volts = (value: number) => formatQuantity(value, "V");
// Of two silences there is no ratio.
const times = (value: number) => (Number.isNaN(value) ? "nothing" : formatQuantity(value, ""));
const decibels = (ratio: number) => (Number.isNaN(ratio) ? "nothing" : formatQuantity(20 * Math.log10(ratio), "dB"));

const of = (text: (cycle: Cycle) => string, setting: (now: BenchSetting) => BenchSetting, peakVolts?: number) => {
  return ({now}: BenchView) => {
    const cycle = cycleOf(setting(now), peakVolts);
    return cycle ? text(cycle) : "no gain stage";
  };
};
const outputPeak = ({output}: Cycle) => halfSwing(output);
const inputPeak = ({input}: Cycle) => halfSwing(input);
/** Where in the cycle the output stands highest. */
const topOf = ({output}: Cycle) => output.indexOf(Math.max(...output));
const across = ({input, output}: Cycle) => output.map((each, k) => each - (input[k] ?? 0));
const gain = ({input, output}: Cycle) => halfSwing(output) / halfSwing(input);
/** As a ratio and in decibels: a lesson speaks of the one, its curve shows the other. */
const bothWays = (cycle: Cycle) => `${times(gain(cycle))} or ${decibels(gain(cycle))}`;
const shareOf = ({harmonics}: Cycle) => harmonicDistortion(harmonics).ofFundamental;
const distortion = (cycle: Cycle) => distortionText(shareOf(cycle));
const harmonic =
  (n: number) =>
  ({harmonics: {amplitude}}: Cycle) =>
    decibels(Math.max(1e-4, (amplitude[n] ?? 0) / (amplitude[1] ?? 1)));
const rise =
  (from: number, to: number) =>
  ({now}: BenchView) => {
    const [low, high] = [cycleOf(withDiodes(now), from), cycleOf(withDiodes(now), to)];
    return low && high ? decibels(outputPeak(high) / outputPeak(low)) : "no gain stage";
  };

/** "grows from 610 mV to 2.28 V", in the direction that it goes; "stays at" one value where both print alike. */
function moved(
  [from = 0, to = 0]: readonly number[],
  [up, down]: readonly [string, string],
  text: (value: number) => string,
): string {
  const [was, is] = [text(from), text(to)];
  return was === is ? `stays at ${is}` : `${to > from ? up : down} from ${was} to ${is}`;
}

/** Peak and distortion of the open A with both diodes in, with the gain control half way and full up. */
const turnedUp = ({now}: BenchView, peakVolts: number) => {
  const [half, full] = [0.5, 1].map((RV1) =>
    cycleOf(withDiodes({...now, settings: {...now.settings, RV1}}), peakVolts),
  );
  return half && full && halfSwing(half.output) > 0 ? [half, full] : undefined;
};

const fittedWords = ["no diode", "both diodes", "D1 alone", "D2 alone"] as const;

/** An even harmonic under this share of the fundamental, in decibels, is none to eye and ear: our choice. */
const leastEvenDb = -60;

/** Clauses of the clipping stage as it stands, whichever diodes are in. */
export const clippingClauses = {
  liftedOut: ({now}) => {
    const [fitted, bare] = [cycleOf(withDiodes(now)), cycleOf(withoutDiodes(now))];
    if (!fitted || !bare) return "there is no gain stage";
    if (halfSwing(fitted.output) === 0) return "nothing comes through, with them or without";
    const grows = moved([fitted, bare].map(outputPeak), ["grows", "shrinks"], volts);
    const bent = moved([fitted, bare].map(shareOf), ["rises", "falls"], distortionText);
    return `the open A ${grows}, and its distortion ${bent}`;
  },
  softTurnedUp: (view) => {
    const cycles = turnedUp(view, softVolts);
    if (!cycles) return "does not come through";
    const bent = moved(cycles.map(shareOf), ["rises", "falls"], distortionText);
    return `${moved(cycles.map(outputPeak), ["grows", "shrinks"], volts)}, and its distortion ${bent}`;
  },
  loudTurnedUp: (view) => {
    const cycles = turnedUp(view, loudVolts);
    return cycles ? moved(cycles.map(outputPeak), ["grows", "shrinks"], volts) : "does not come through";
  },
  halves: ({now}) => {
    const cycle = cycleOf(now);
    if (!cycle) return "there is no gain stage";
    const fitted = `with ${fittedWords[now.settings["diodesFitted"] ?? 1] ?? "both diodes"} in`;
    if (halfSwing(cycle.output) === 0) return `${fitted}, nothing comes through`;
    const {up, down, alike} = swingText(cycle.output);
    const swing = alike ? `up and down by ${up} alike` : `up by ${up} and down by ${down}`;
    const {amplitude} = cycle.harmonics;
    const secondDb = 20 * Math.log10((amplitude[2] ?? 0) / (amplitude[1] ?? 1));
    const second =
      secondDb > leastEvenDb
        ? `the second harmonic stands at ${formatQuantity(secondDb, "dB")}`
        : `the second harmonic does not reach ${formatQuantity(leastEvenDb, "dB")}`;
    return `${fitted}, the open A goes ${swing}, and ${second}`;
  },
} satisfies Record<string, (view: BenchView) => string>;

/**
 * Readings of the clipping stage at the open A string. Each says in its name or by default whether the diodes are in, and keeps
 * to that wherever their switch stands. Each needs a whole settled cycle: they follow when the bench rests.
 */
export const clippingReadings = {
  openA: () => formatQuantity(openAHz, "Hz"),
  quietLevel: () => volts(quietVolts),
  middleLevel: () => volts(middleVolts),
  loudLevel: () => volts(loudVolts),
  softLevel: () => volts(softVolts),
  levelStep: () => decibels(loudVolts / middleVolts),

  clippingInput: of((cycle) => volts(inputPeak(cycle)), withDiodes),
  clippingOutput: of((cycle) => volts(outputPeak(cycle)), withDiodes),
  outputWithoutDiodes: of((cycle) => volts(outputPeak(cycle)), withoutDiodes),
  levelFall: ({now}) => {
    const [here, there] = [cycleOf(withDiodes(now)), cycleOf(withoutDiodes(now))];
    return here && there ? decibels(outputPeak(there) / outputPeak(here)) : "no gain stage";
  },
  acrossDiodes: of((cycle) => volts(halfSwing(across(cycle))), withDiodes),
  inputAtTop: of((cycle) => volts(cycle.input[topOf(cycle)] ?? Number.NaN), withDiodes),
  acrossAtTop: of((cycle) => volts(across(cycle)[topOf(cycle)] ?? Number.NaN), withDiodes),
  distortion: of(distortion, withDiodes),
  thirdHarmonic: of(harmonic(3), withDiodes),
  fifthHarmonic: of(harmonic(5), withDiodes),

  quietInput: of((cycle) => volts(inputPeak(cycle)), withDiodes, quietVolts),
  middleInput: of((cycle) => volts(inputPeak(cycle)), withDiodes, middleVolts),
  loudInput: of((cycle) => volts(inputPeak(cycle)), withDiodes, loudVolts),
  quietOutput: of((cycle) => volts(outputPeak(cycle)), withDiodes, quietVolts),
  middleOutput: of((cycle) => volts(outputPeak(cycle)), withDiodes, middleVolts),
  loudOutput: of((cycle) => volts(outputPeak(cycle)), withDiodes, loudVolts),
  quietGain: of(bothWays, withDiodes, quietVolts),
  middleGain: of(bothWays, withDiodes, middleVolts),
  loudGain: of(bothWays, withDiodes, loudVolts),
  quietGainWithoutDiodes: of((cycle) => times(gain(cycle)), withoutDiodes, quietVolts),
  riseBelow: rise(quietVolts, middleVolts),
  riseAbove: rise(middleVolts, loudVolts),
} satisfies Record<string, (view: BenchView) => string>;
