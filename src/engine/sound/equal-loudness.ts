import {decibels} from "./samples.ts";
import {ceilingDb} from "./volts.ts";

/**
 * The gain in decibels that brings each of several sounds to one loudness: `wantedLoudness`, or as near below it as keeps
 * every peak at the ceiling of −1 dBFS or lower, so that no limiter has to act on one of them and not on the others.
 *
 * A silent sound (loudness −∞) takes no part and keeps 0 dB.
 *
 * @param sounds loudness in LUFS, as `integratedLoudness` gives it, and largest magnitude in full scale
 */
export function equalLoudnessGains(
  sounds: readonly Readonly<{loudness: number; peak: number}>[],
  wantedLoudness: number,
): number[] {
  const heard = sounds.filter(({loudness}) => Number.isFinite(loudness));
  // A hair below the ceiling: rounding to single precision or to 24 bits stays under it too.
  const highest = heard.map(({loudness, peak}) => loudness + ceilingDb - 1e-4 - decibels(peak));
  const target = Math.min(wantedLoudness, ...highest);
  return sounds.map(({loudness}) => (Number.isFinite(loudness) ? target - loudness : 0));
}
