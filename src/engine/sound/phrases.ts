import {phraseScores, type Note, type Phrase} from "./phrase-scores.ts";
import {pluckedString} from "./plucked-string.ts";
import {peak, scaled} from "./samples.ts";

export type PhraseName = keyof typeof phraseScores;

/** Names of the built-in phrases. */
export const phraseNames = Object.keys(phraseScores) as readonly PhraseName[];

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
  const mix = wholeMix(name, sampleRateHz);
  return scaled(mix, 1 / peak(mix));
}

/** The largest magnitude of a phrase's strings together, in no particular unit, before the phrase is brought to peak 1. */
export const phrasePeak = (name: PhraseName, sampleRateHz: number): number => peak(wholeMix(name, sampleRateHz));

/**
 * The same samples as `phraseSamples` gives, note by note: each stretch as soon as no later note can change it. What sounds first
 * can be played while the rest is still being made.
 *
 * @param highest what `phrasePeak` gives: the peak is not known before the last note
 * @returns as yields: stretches that follow each other; as result: how many samples there are
 * @throws as `phraseSamples`
 */
export function* phraseStretches(
  name: PhraseName,
  sampleRateHz: number,
  highest: number,
): Generator<Float32Array, number> {
  const mix = emptyMix(name, sampleRateHz);
  let from = 0;
  for (const to of mixing(name, sampleRateHz, mix)) {
    yield scaled(mix.subarray(from, to), 1 / highest);
    from = to;
  }
  return mix.length;
}

const emptyMix = (name: PhraseName, sampleRateHz: number) => new Float64Array(phraseLength(name, sampleRateHz));

/** How many samples a phrase has at a rate. */
export function phraseLength(name: PhraseName, sampleRateHz: number): number {
  const {beats, beatSeconds} = phraseScores[name];
  return Math.round(beats * beatSeconds * sampleRateHz);
}

function wholeMix(name: PhraseName, sampleRateHz: number): Float64Array {
  const mix = emptyMix(name, sampleRateHz);
  for (const _ of mixing(name, sampleRateHz, mix));
  return mix;
}

/** Adds the notes of a phrase to `mix`; yields, after each, up to where the mix is what it will be. */
function* mixing(name: PhraseName, sampleRateHz: number, mix: Float64Array): Generator<number> {
  const {beatSeconds, notes}: Phrase = phraseScores[name];
  const {length} = mix;
  const damping = Math.round(dampingSeconds * sampleRateHz);
  const timed = notes.map((note, index) => {
    const start = Math.round(note.beat * beatSeconds * sampleRateHz);
    const held = Math.round((note.until - note.beat) * beatSeconds * sampleRateHz);
    const goesRound = start + held + damping > length;
    return {note, index, start, held, goesRound};
  });
  // What rings on at the start comes first, then the notes as they are picked.
  timed.sort((a, b) => Number(b.goesRound) - Number(a.goesRound) || a.start - b.start);
  for (const [k, {note, index, start, held}] of timed.entries()) {
    const string = sounding(note, index, held + damping, sampleRateHz);
    for (let n = 0; n < string.length; n++) {
      const finger = n < held ? 1 : 0.5 + 0.5 * Math.cos((Math.PI * (n - held)) / damping);
      const at = (start + n) % length;
      mix[at] = (mix[at] ?? 0) + finger * (string[n] ?? 0);
    }
    const next = timed[k + 1];
    if (!next) yield length;
    else if (!next.goesRound) yield next.start;
  }
}

/** One string of a phrase. How long strings ring and where they are picked: common practice, no published source. */
function sounding(note: Note, index: number, length: number, sampleRateHz: number): Float64Array {
  const {midi, strength, muted = false, bendSemitones = 0} = note;
  const highestRatio = 2 ** (bendSemitones / 12);
  const string = pluckedString(
    {
      frequencyHz: noteHz(midi),
      strength,
      pickPosition: muted ? 0.09 : 0.13,
      pickupPosition: 0.21,
      // Low strings ring longer than high ones; a palm on the bridge takes the treble first.
      fundamentalSeconds: muted ? 0.5 : 7 * 2 ** (-(midi - 40) / 24),
      trebleSeconds: muted ? 0.16 : 1.4,
      roughness: 0.35,
      seed: 1000 + index,
    },
    Math.ceil(length * highestRatio) + 4,
    sampleRateHz,
  );
  return bendSemitones === 0 ? string.subarray(0, length) : bentUp(string, bendSemitones, length, sampleRateHz);
}

/** The string read faster and faster until it is `semitones` higher, through third-order Hermite interpolation. */
function bentUp(string: Float64Array, semitones: number, length: number, sampleRateHz: number): Float64Array {
  const bent = new Float64Array(length);
  for (let n = 0, position = 0; n < length; n++) {
    const pulled = Math.min(1, Math.max(0, (n / sampleRateHz - 0.15) / 0.35));
    const whole = Math.floor(position);
    const t = position - whole;
    const [a, b] = [string[whole - 1] ?? 0, string[whole] ?? 0];
    const [c, d] = [string[whole + 1] ?? 0, string[whole + 2] ?? 0];
    bent[n] = b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
    position += 2 ** ((semitones * pulled * pulled * (3 - 2 * pulled)) / 12);
  }
  return bent;
}
