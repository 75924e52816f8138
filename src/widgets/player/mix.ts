import {limited} from "../../engine/sound/limiter.ts";
import {matchLoudness} from "../../engine/sound/match-loudness.ts";
import {amplitude, peak, scaled} from "../../engine/sound/samples.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {ceilingDb} from "../../engine/sound/volts.ts";
import {playedLoudness} from "./played-loudness.ts";
import {renderRateHz, type Rendering} from "./rendering.ts";

/** What one can switch between: the three of every bench, and a stage on the way from the wire to here. */
export const voices = ["before", "now", "wire", "stage"] as const;
export type Voice = (typeof voices)[number];

/**
 * How a voice is played: the gain it gets, the decibels of that by which it was turned down against the voice that needed
 * least, and its loudness in LUFS then.
 */
export type Level = Readonly<{gainDb: number; quieterDb: number; loudness: number}>;

/** A voice as it is played: its samples under the ceiling. */
export type Mixed = Level & Readonly<{samples: Float32Array}>;

/**
 * How voices of these loudnesses are played: all at one loudness, or each at its true level against the others. The loudest is
 * brought to −24 LUFS, so that a quiet circuit needs no reach for the volume. A voice whose loudness is missing is missing here.
 */
export function levels(
  loudnesses: Readonly<Partial<Record<Voice, number>>>,
  sameLoudness: boolean,
): Partial<Record<Voice, Level>> {
  const present = voices.flatMap((voice) => {
    const loudness = loudnesses[voice];
    return loudness === undefined ? [] : [{voice, loudness}];
  });
  const gains = sameLoudness ? matchLoudness(present.map(({loudness}) => loudness)) : present.map(() => 0);
  const loudest = Math.max(...present.map(({loudness}, k) => loudness + (gains[k] ?? 0)).filter(Number.isFinite));
  const common = Number.isFinite(loudest) ? playedLoudness - loudest : 0;
  // A silent one sets no measure.
  const least = Math.max(...gains.filter((_, k) => Number.isFinite(present[k]?.loudness)));
  return Object.fromEntries(
    present.map(({voice, loudness}, k) => {
      const gainDb = (gains[k] ?? 0) + common;
      return [voice, {gainDb, quieterDb: least - (gains[k] ?? 0), loudness: loudness + gainDb}];
    }),
  );
}

/** The voices as they are played, no sample above −1 dBFS; a page has its worker do this (`Renderer.underCeiling`). */
export function mixed(
  renderings: Readonly<Partial<Record<Voice, Rendering>>>,
  sameLoudness: boolean,
): Partial<Record<Voice, Mixed>> {
  const loudnesses = Object.fromEntries(Object.entries(renderings).map(([voice, {loudness}]) => [voice, loudness]));
  return Object.fromEntries(
    Object.entries(levels(loudnesses, sameLoudness)).map(([voice, level]) => {
      const samples = renderings[voice as Voice]?.samples ?? new Float32Array(0);
      return [voice, {...level, samples: underCeiling(scaled(samples, amplitude(level.gainDb)))}];
    }),
  );
}

/** The same sound with no sample above −1 dBFS. */
export function underCeiling(samples: Float32Array): Float32Array {
  // The limiter costs time, and most sounds have no need of it.
  return peak(samples) > amplitude(ceilingDb) ? limited(samples, renderRateHz) : samples;
}

/** How a sentence about each voice begins. */
export type VoiceNames = Readonly<Partial<Record<Voice, string>>>;
const lessonNames: VoiceNames = {before: "Before", now: "Now", wire: "The wire"};

/** What was done to loudness, in one sentence about the voice that is heard. */
export function loudnessSentence(
  mix: Partial<Record<Voice, Level>>,
  voice: Voice,
  sameLoudness: boolean,
  names: VoiceNames = lessonNames,
): string {
  if (!sameLoudness) return "True levels: the louder one may seem better only because it is louder.";
  const heard = mix[voice];
  if (!heard) return "";
  const audible = Object.values(mix).filter(({loudness}) => Number.isFinite(loudness)).length;
  if (!Number.isFinite(heard.loudness)) return `${names[voice] ?? voice} is silent.`;
  if (audible === 1) return `${names[voice] ?? voice} is the only one to be heard; nothing is turned down.`;
  const more = heard.quieterDb;
  const name = names[voice] ?? voice;
  // A twentieth of a loudness unit is half of what a meter may be off by.
  if (more >= 0.05) return `${name} is played ${formatQuantity(more, "dB")} quieter here, so that louder does not win.`;
  return Object.keys(mix).length > 2
    ? `${name} is the quietest here; the others are turned down to it.`
    : `${name} is the quieter one; the other is turned down to it.`;
}
