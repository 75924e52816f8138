/** A note: when it is picked and damped, in beats; its MIDI number; how hard, 0 to 1; muted by the palm or bent, if so. */
export type Note = Readonly<{
  beat: number;
  until: number;
  midi: number;
  strength: number;
  muted?: boolean;
  /** How far the note is pulled up after a short while, in semitones. */
  bendSemitones?: number;
}>;
export type Phrase = Readonly<{beats: number; beatSeconds: number; notes: readonly Note[]}>;

const note = (beat: number, beats: number, midi: number, strength: number): Note => ({
  beat,
  until: beat + beats,
  midi,
  strength,
});

/** Notes one after another, each ringing as long as it lasts: [MIDI number, beats, strength]. */
function line(start: number, steps: readonly (readonly [number, number, number])[]): readonly Note[] {
  let beat = start;
  return steps.map(([midi, beats, strength]) => {
    beat += beats;
    return note(beat - beats, 0.95 * beats, midi, strength);
  });
}

/** All strings of a chord, low to high, one after the other as a pick meets them. */
const strum = (beat: number, beats: number, midi: readonly number[], strength: number): readonly Note[] =>
  midi.map((each, string) => ({
    beat: beat + string * 0.022,
    until: beat + beats,
    midi: each,
    strength: strength * (1 - 0.03 * string),
  }));

const muted = (notes: readonly Note[]): readonly Note[] => notes.map((each) => ({...each, muted: true}));
const eighths = (start: number, midi: readonly number[]) =>
  muted(midi.map((each, k) => note(start + k / 2, 0.48, each, k % 2 === 0 ? 0.9 : 0.65)));

// Chords in standard tuning, open position.
const openEMinor = [40, 47, 52, 55, 59, 64];
const openC = [48, 52, 55, 60, 64];
const openG = [43, 47, 50, 55, 59, 67];
const openD = [50, 57, 62, 66];

/** Two strings, the higher pulled up to meet a note a whole tone above. */
const bent = (beat: number, beats: number, low: number, high: number, strength: number): readonly Note[] => [
  {...note(beat, beats, low, strength), bendSemitones: 2},
  note(beat + 0.02, beats - 0.02, high, 0.9 * strength),
];

/** The built-in phrases, written for this course. */
export const phraseScores = {
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
  "low palm-muted riff": {
    beats: 16,
    beatSeconds: 0.44,
    notes: [
      ...eighths(0, [40, 40, 40, 43, 40, 40]),
      ...strum(3, 0.9, [45, 52], 0.9),
      ...eighths(4, [40, 40, 40, 46, 45, 43]),
      ...strum(7, 0.9, [43, 50], 0.9),
      ...eighths(8, [40, 40, 40, 43, 40, 40]),
      ...strum(11, 0.9, [47, 54], 0.95),
      ...eighths(12, [40, 40, 43, 43, 45, 46]),
      ...strum(15, 0.9, [40, 47, 52], 1),
    ],
  },
  "single-note line": {
    beats: 16,
    beatSeconds: 0.46,
    notes: [
      ...line(0, [
        [64, 1, 0.8],
        [67, 0.5, 0.7],
        [69, 1.5, 0.9],
        [67, 0.5, 0.6],
        [64, 0.5, 0.65],
      ]),
      ...line(4, [
        [62, 1, 0.75],
        [64, 0.5, 0.7],
        [59, 2, 0.85],
        [57, 0.5, 0.6],
      ]),
      ...line(8, [
        [59, 0.5, 0.7],
        [62, 0.5, 0.75],
        [64, 1, 0.85],
        [67, 0.5, 0.7],
        [71, 1.5, 1],
      ]),
      ...line(12, [
        [69, 0.5, 0.75],
        [67, 0.5, 0.7],
        [64, 1, 0.8],
        [62, 0.5, 0.65],
        [64, 1.5, 0.9],
      ]),
    ],
  },
  "open chords left ringing": {
    beats: 8,
    beatSeconds: 1.05,
    notes: [
      ...strum(0, 1.98, openEMinor, 0.8),
      ...strum(2, 1.98, openC, 0.75),
      ...strum(4, 1.98, openG, 0.85),
      ...strum(6, 1.98, openD, 0.75),
    ],
  },
  "two-note chords with a bend": {
    beats: 12,
    beatSeconds: 0.6,
    notes: [
      ...strum(0, 0.9, [57, 62], 0.75),
      ...strum(1, 0.9, [60, 65], 0.8),
      ...bent(2, 1.9, 62, 67, 0.95),
      ...strum(4, 0.9, [60, 64], 0.7),
      ...strum(5, 0.9, [57, 62], 0.75),
      ...bent(6, 1.9, 60, 65, 0.9),
      ...strum(8, 0.45, [57, 62], 0.7),
      ...strum(8.5, 0.45, [55, 60], 0.7),
      ...bent(9, 2.9, 55, 60, 1),
    ],
  },
  "arpeggio over all strings": {
    beats: 16,
    beatSeconds: 0.5,
    notes: [openEMinor, openG].flatMap((chord, half) =>
      [0, 1, 2, 3, 4, 5, 4, 3, 2, 3, 4, 5, 4, 3, 2, 1].map((string, k) =>
        note(8 * half + k / 2, Math.min(3.5, 7.95 - k / 2), chord[string] ?? 40, k % 4 === 0 ? 0.8 : 0.6),
      ),
    ),
  },
  "soft to hard picking": {
    beats: 16,
    beatSeconds: 0.5,
    notes: Array.from({length: 16}, (_, k) => note(k, 0.92, [45, 52, 57, 52][k % 4] ?? 45, 0.12 + (0.88 * k) / 15)),
  },
} as const satisfies Record<string, Phrase>;
