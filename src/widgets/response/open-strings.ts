/** Open strings in equal temperament on A = 440 Hz (ISO 16): semitones from that A. */
export const openStrings = [
  {name: "E", semitones: -29},
  {name: "A", semitones: -24},
  {name: "D", semitones: -19},
  {name: "G", semitones: -14},
  {name: "B", semitones: -10},
  {name: "e", semitones: -5},
].map(({name, semitones}) => ({name, frequencyHz: 440 * 2 ** (semitones / 12)}));
