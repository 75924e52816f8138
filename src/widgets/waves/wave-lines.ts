import {crestFactorDb} from "../../engine/analysis/crest.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {renderRateHz} from "../player/rendering.ts";

/** What the picture shows: the bare wire and the finished overdrive, as they are played. */
export type HeardPair = Readonly<{wire: Float32Array; now: Float32Array}>;

/** Path data of one voice, in the boxes below: an outline to be filled, and a line. */
export type WaveLines = Readonly<{whole: string; part: string}>;

/** Boxes of the two drawings: the whole phrase, and a part of it drawn large. */
export const wholeBox = {width: 480, height: 44} as const;
export const partBox = {width: 480, height: 112} as const;

/** The part drawn large: seconds, and where it begins as a share of the phrase. A low note, just after the string is struck. */
export const partSeconds = 0.016;
export const partBegins = 0.188;

const steps = 160;
const points = 320;

/** Both voices as lines, each drawing on one scale for the two: what is taller is stronger. */
export function waveLines(pair: HeardPair): Readonly<Record<keyof HeardPair, WaveLines>> {
  const tallest = Math.max(highest(pair.wire), highest(pair.now));
  const y = partScale(pair);
  const lines = (samples: Float32Array) => ({whole: outlineOf(samples, tallest), part: lineOf(partOf(samples), y)});
  return {wire: lines(pair.wire), now: lines(pair.now)};
}

/** The line of no signal in the large drawing. */
export const zeroLine = (pair: HeardPair): string => `M0 ${partScale(pair)(0).toFixed(1)}H${partBox.width}`;

/** Where the part drawn large is in the drawing of the whole, and lines from there to the edges of the large one. */
export function takenPart({wire}: HeardPair): Readonly<{x: number; width: number; opens: string}> {
  const x = partBegins * wholeBox.width;
  // So short a part would be thinner than a line.
  const width = Math.max(3, (partSeconds / secondsOf(wire)) * wholeBox.width);
  return {x, width, opens: `M${x} 0L0 14M${x + width} 0L${wholeBox.width} 14`};
}

/** What is drawn, in words. */
export function wavesCaption({wire}: HeardPair): string {
  const [whole, part] = [secondsOf(wire), partSeconds].map((each) => formatQuantity(each, "s", {figures: 2}));
  return `The whole phrase, ${whole}, and ${part} of it drawn large.`;
}

/** What the two have to do with each other in numbers: how far the peaks stand out of each. */
export function wavesSentence({wire, now}: HeardPair): string {
  const [wireCrest, nowCrest] = [wire, now].map((samples) =>
    formatQuantity(crestFactorDb(Float64Array.from(samples)), "dB"),
  );
  return `Highest peak over average level: wire ${wireCrest}, overdrive ${nowCrest}.`;
}

/** How long samples at the rendering rate last. */
export const secondsOf = (samples: Float32Array) => samples.length / renderRateHz;

const highest = (samples: Float32Array) => samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 1e-9);

function partOf(samples: Float32Array): Float32Array {
  const begin = Math.round(partBegins * samples.length);
  return samples.subarray(begin, begin + Math.round(partSeconds * renderRateHz));
}

/** The outline of the samples: in each step of time from the highest to the lowest. */
function outlineOf(samples: Float32Array, tallest: number): string {
  const {width, height} = wholeBox;
  const place = (step: number, value: number) =>
    `${((step * width) / (steps - 1)).toFixed(1)} ${((height / 2) * (1 - value / tallest)).toFixed(1)}`;
  const spans = Array.from({length: steps}, (_, step) => {
    const [from, to] = [step, step + 1].map((each) => Math.floor((each * samples.length) / steps));
    return samples.subarray(from, to);
  });
  const above = spans.map((span, step) => place(step, Math.max(0, ...span)));
  const below = spans.map((span, step) => place(step, Math.min(0, ...span)));
  return `M${[...above, ...below.reverse()].join("L")}Z`;
}

/** From a sample to its height in the large drawing, which the two fill from the lowest to the highest of both. */
function partScale({wire, now}: HeardPair): (sample: number) => number {
  const both = [...partOf(wire), ...partOf(now)];
  const [low, high] = [Math.min(0, ...both), Math.max(1e-9, ...both)];
  // Room for the thickness of the line at the outermost peaks.
  return (sample) => 2 + ((partBox.height - 4) * (high - sample)) / (high - low);
}

function lineOf(samples: Float32Array, y: (sample: number) => number): string {
  const place = (point: number) => {
    const sample = samples[Math.round((point * (samples.length - 1)) / points)] ?? 0;
    return `${((point * partBox.width) / points).toFixed(1)} ${y(sample).toFixed(1)}`;
  };
  return `M${Array.from({length: points + 1}, (_, point) => place(point)).join("L")}`;
}
