/** However quiet the quietest is, nothing is played louder than this by the match, in LUFS. */
export const loudestMatch = -20;

/**
 * The gain in decibels that brings each of several sounds to one loudness: that of the quietest, and −20 LUFS at most.
 *
 * No gain is above 0 dB: what is loud is turned down, so that louder does not win. A silent sound (loudness −∞) takes
 * no part and keeps 0 dB.
 *
 * @param loudnesses in LUFS, as `integratedLoudness` gives them
 */
export function matchLoudness(loudnesses: readonly number[]): number[] {
  const target = Math.min(loudestMatch, ...loudnesses.filter(Number.isFinite));
  return loudnesses.map((loudness) => (Number.isFinite(loudness) ? target - loudness : 0));
}
