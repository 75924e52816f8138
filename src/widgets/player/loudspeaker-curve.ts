import {filterGainDb} from "../../engine/sound/biquad.ts";
import {loudspeakerFilters} from "../../engine/sound/loudspeaker.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {renderRateHz} from "./rendering.ts";

const [width, height, base] = [280, 96, 76];
const [lowest, highest] = [40, 12_000];
const [topDb, bottomDb] = [6, -40];

const at = (hertz: number) =>
  filterGainDb(loudspeakerFilters(renderRateHz), Float64Array.of(hertz), renderRateHz)[0] ?? 0;
// The last word stands to both sides of its line, and needs room to the right.
const [left, right] = [8, 24];
const xOf = (hertz: number) => left + ((width - left - right) * Math.log(hertz / lowest)) / Math.log(highest / lowest);
const yOf = (gainDb: number) => 4 + ((base - 4) * (topDb - Math.max(bottomDb, gainDb))) / (topDb - bottomDb);

/** The loudspeaker's curve in a box of `width` by `height`. */
export function loudspeakerCurve() {
  const path = Array.from({length: 121}, (_, k) => {
    const hertz = lowest * (highest / lowest) ** (k / 120);
    return `${k === 0 ? "M" : "L"}${xOf(hertz).toFixed(1)} ${yOf(at(hertz)).toFixed(1)}`;
  }).join("");
  const decades = [100, 1000, 10_000].map((hertz) => ({x: xOf(hertz), word: formatQuantity(hertz, "Hz")}));
  return {width, height, base, path, decades};
}

/** What it does, in a sentence of its own figures. */
export function loudspeakerSentence(): string {
  const below = formatQuantity(-at(40), "dB", {figures: 2});
  const above = formatQuantity(-at(10_000), "dB", {figures: 2});
  return `A plain guitar loudspeaker: ${below} less at 40\u00a0Hz, ${above} less at 10\u00a0kHz (common practice, no published source).`;
}
