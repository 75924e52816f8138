/** A steady note that a figure can be drawn at: its name in an address, and what the reader is shown. */
export type Note = Readonly<{name: string; label: string; frequencyHz: number}>;

/** Open strings and the e string's octave in equal temperament on A = 440 Hz (ISO 16); 1 kHz is what a generator is set to. */
const string = (semitones: number) => 440 * 2 ** (semitones / 12);

/** Notes that cycles and level curves can be drawn at, ascending. */
export const notes: readonly Note[] = [
  {name: "E", label: "low E", frequencyHz: string(-29)},
  {name: "A", label: "open A", frequencyHz: string(-24)},
  {name: "e", label: "open e", frequencyHz: string(-5)},
  {name: "e12", label: "e, 12th fret", frequencyHz: string(7)},
  {name: "1k", label: "1 kHz", frequencyHz: 1000},
];

/** The note that figures start at, and that prose speaks of. */
export const startNote = noteNamed("A");

/** The note of that name. @throws {RangeError} if there is none */
export function noteNamed(name: string): Note {
  const found = notes.find((note) => note.name === name);
  if (!found) throw new RangeError(`the notes are ${notes.map((note) => note.name).join(", ")}, got "${name}"`);
  return found;
}
