import {pluckedString} from "./plucked-string.ts";
import {peak} from "./samples.ts";

/** A note of a phrase: when it is picked and damped, in beats; its MIDI number; how hard, 0 to 1. */
type Note = Readonly<{beat: number; until: number; midi: number; strength: number}>;
type Phrase = Readonly<{beats: number; beatSeconds: number; notes: readonly Note[]}>;

const note = (beat: number, beats: number, midi: number, strength: number): Note => ({
  beat,
  until: beat + beats,
  midi,
  strength,
});

/** All strings of a chord, low to high, one after the other as a pick meets them. */
const strum = (beat: number, beats: number, midi: readonly number[], strength: number): readonly Note[] =>
  midi.map((each, string) => ({
    beat: beat + string * 0.022,
    until: beat + beats,
    midi: each,
    strength: strength * (1 - 0.03 * string),
  }));

const openEMinor = [40, 47, 52, 55, 59, 64];

/** The built-in phrases, written for this course. */
const phrases = {
  riff: {
    beats: 11,
    beatSeconds: 0.58,
    notes: [
      note(0, 0.9, 40, 0.85),
      note(1, 0.4, 40, 0.55),
      note(1.5, 0.45, 43, 0.75),
      note(2, 0.7, 45, 0.9),
      note(2.75, 0.22, 43, 0.55),
      note(3, 0.95, 40, 0.8),
      note(4, 0.45, 50, 0.65),
      note(4.5, 0.45, 52, 0.7),
      note(5, 0.45, 55, 0.8),
      note(5.5, 0.45, 57, 0.65),
      note(6, 0.9, 59, 0.9),
      ...strum(7, 3.8, openEMinor, 0.7),
    ],
  },
} as const satisfies Record<string, Phrase>;

export type PhraseName = keyof typeof phrases;

/** Names of the built-in phrases. */
export const phraseNames = Object.keys(phrases) as readonly PhraseName[];

/** Frequency of a MIDI note in hertz: equal temperament on A = 440 Hz (ISO 16). */
export const noteHz = (midi: number) => 440 * 2 ** ((midi - 69) / 12);

/** A finger takes this long to stop a string, in seconds; common practice, no published source. */
const dampingSeconds = 0.03;

/**
 * A built-in phrase as the voltage of a pickup's ideal source, peak 1; the same samples each time. It is a loop: what
 * still rings at the end rings on at the start.
 *
 * @throws {RangeError} if the sample rate is too low for the highest string
 */
export function phraseSamples(name: PhraseName, sampleRateHz: number): Float32Array {
  const {beats, beatSeconds, notes} = phrases[name];
  const length = Math.round(beats * beatSeconds * sampleRateHz);
  const mix = new Float64Array(length);
  notes.forEach(({beat, until, midi, strength}, index) => {
    const damping = Math.round(dampingSeconds * sampleRateHz);
    const held = Math.round((until - beat) * beatSeconds * sampleRateHz);
    const string = pluckedString(
      {
        frequencyHz: noteHz(midi),
        strength,
        pickPosition: 0.17,
        pickupPosition: 0.21,
        // Low strings ring longer than high ones; common practice, no published source.
        fundamentalSeconds: 7 * 2 ** (-(midi - 40) / 24),
        trebleSeconds: 1.1,
        roughness: 0.35,
        seed: 1000 + index,
      },
      held + damping,
      sampleRateHz,
    );
    const start = Math.round(beat * beatSeconds * sampleRateHz);
    for (let n = 0; n < string.length; n++) {
      const finger = n < held ? 1 : 0.5 + 0.5 * Math.cos((Math.PI * (n - held)) / damping);
      const at = (start + n) % length;
      mix[at] = (mix[at] ?? 0) + finger * (string[n] ?? 0);
    }
  });
  const highest = peak(mix);
  return Float32Array.from(mix, (sample) => sample / highest);
}
