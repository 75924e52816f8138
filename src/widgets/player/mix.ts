import {limited} from "../../engine/sound/limiter.ts";
import {matchLoudness} from "../../engine/sound/match-loudness.ts";
import {amplitude, scaled} from "../../engine/sound/samples.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {renderRateHz, type Rendering} from "./rendering.ts";

/** The three that one can switch between. */
export const voices = ["before", "now", "wire"] as const;
export type Voice = (typeof voices)[number];

/** A voice as it is played: its samples under the ceiling, and the decibels by which it was turned down. */
export type Mixed = Readonly<{samples: Float32Array; gainDb: number; loudness: number}>;

/**
 * The three voices as they are played: at one loudness, or at the level each has, and never above −1 dBFS.
 *
 * A voice whose rendering is missing is missing here too.
 */
export function mixed(renderings: Readonly<Partial<Record<Voice, Rendering>>>, sameLoudness: boolean): Partial<Record<Voice, Mixed>> {
  const present = voices.flatMap((voice) => {
    const rendering = renderings[voice];
    return rendering ? [{voice, rendering}] : [];
  });
  const gains = matchLoudness(present.map(({rendering}) => rendering.loudness));
  return Object.fromEntries(
    present.map(({voice, rendering}, k) => {
      const gainDb = sameLoudness ? (gains[k] ?? 0) : 0;
      const samples = limited(scaled(rendering.samples, amplitude(gainDb)), renderRateHz);
      return [voice, {samples, gainDb, loudness: rendering.loudness + gainDb}];
    }),
  );
}

const names: Readonly<Record<Voice, string>> = {before: "Before", now: "Now", wire: "The wire"};

/** What was done to loudness, in one sentence about the voice that is heard. */
export function loudnessSentence(mix: Partial<Record<Voice, Mixed>>, voice: Voice, sameLoudness: boolean): string {
  if (!sameLoudness) return "True levels: the louder one may seem better only because it is louder.";
  const heard = mix[voice];
  if (!heard) return "";
  const least = Math.max(...voices.flatMap((each) => mix[each]?.gainDb ?? []));
  const more = least - heard.gainDb;
  // A twentieth of a loudness unit is half of what a meter may be off by.
  if (more < 0.05) return `${names[voice]} is the quietest here; the others are turned down to it.`;
  return `${names[voice]} is played ${formatQuantity(more, "dB")} quieter here, so that louder does not win.`;
}
