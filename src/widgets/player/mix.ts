import {limited} from "../../engine/sound/limiter.ts";
import {matchLoudness} from "../../engine/sound/match-loudness.ts";
import {amplitude, peak, scaled} from "../../engine/sound/samples.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {ceilingDb} from "../../engine/sound/volts.ts";
import {renderRateHz, type Rendering} from "./rendering.ts";

/** The three that one can switch between. */
export const voices = ["before", "now", "wire"] as const;
export type Voice = (typeof voices)[number];

/**
 * A voice as it is played: its samples under the ceiling, its loudness in LUFS, and the decibels by which it was turned
 * down against the voice that needed least.
 */
export type Mixed = Readonly<{samples: Float32Array; quieterDb: number; loudness: number}>;

/** How loud the loudest voice is played with the volume full, in LUFS: bare guitar and finished pedal are as loud here. */
export const playedLoudness = -24;

/**
 * The three voices as they are played: all at one loudness, or each at its true level against the others. The loudest is
 * brought to −24 LUFS, so that a quiet circuit needs no reach for the volume, and no sample passes −1 dBFS.
 *
 * A voice whose rendering is missing is missing here too.
 */
export function mixed(
  renderings: Readonly<Partial<Record<Voice, Rendering>>>,
  sameLoudness: boolean,
): Partial<Record<Voice, Mixed>> {
  const present = voices.flatMap((voice) => {
    const rendering = renderings[voice];
    return rendering ? [{voice, rendering}] : [];
  });
  const loudnesses = present.map(({rendering}) => rendering.loudness);
  const gains = sameLoudness ? matchLoudness(loudnesses) : loudnesses.map(() => 0);
  const loudest = Math.max(...loudnesses.map((loudness, k) => loudness + (gains[k] ?? 0)).filter(Number.isFinite));
  const common = Number.isFinite(loudest) ? playedLoudness - loudest : 0;
  const least = Math.max(...gains);
  return Object.fromEntries(
    present.map(({voice, rendering}, k) => {
      const gainDb = (gains[k] ?? 0) + common;
      const played = scaled(rendering.samples, amplitude(gainDb));
      // The limiter costs time, and most sounds have no need of it.
      const samples = peak(played) > amplitude(ceilingDb) ? limited(played, renderRateHz) : played;
      return [voice, {samples, quieterDb: least - (gains[k] ?? 0), loudness: rendering.loudness + gainDb}];
    }),
  );
}

/** How a sentence about each voice begins. */
export type VoiceNames = Readonly<Partial<Record<Voice, string>>>;
const lessonNames: VoiceNames = {before: "Before", now: "Now", wire: "The wire"};

/** What was done to loudness, in one sentence about the voice that is heard. */
export function loudnessSentence(
  mix: Partial<Record<Voice, Mixed>>,
  voice: Voice,
  sameLoudness: boolean,
  names: VoiceNames = lessonNames,
): string {
  if (!sameLoudness) return "True levels: the louder one may seem better only because it is louder.";
  const heard = mix[voice];
  if (!heard) return "";
  const more = heard.quieterDb;
  const name = names[voice] ?? voice;
  // A twentieth of a loudness unit is half of what a meter may be off by.
  if (more >= 0.05) return `${name} is played ${formatQuantity(more, "dB")} quieter here, so that louder does not win.`;
  return Object.keys(mix).length > 2
    ? `${name} is the quietest here; the others are turned down to it.`
    : `${name} is the quieter one; the other is turned down to it.`;
}
