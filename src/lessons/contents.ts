/** The six groups of the path, from guitar to amplifier. */
export const groups = [
  {letter: "A", title: "Before the first part", lessons: [1, 2]},
  {letter: "B", title: "A place to stand", lessons: [3, 4]},
  {letter: "C", title: "Gain", lessons: [5, 6, 7, 8, 9]},
  {letter: "D", title: "Clipping", lessons: [10, 11, 12, 13]},
  {letter: "E", title: "Tone", lessons: [14, 15]},
  {letter: "F", title: "The whole pedal", lessons: [16, 17, 18, 19, 20, 21]},
] as const;

export type LessonEntry = Readonly<{
  number: number;
  slug: string;
  title: string;
  /** What it adds, as the path shows it. */
  adds: string;
  /** Whether the lesson is written; one that is not is named, and not linked. */
  written: boolean;
}>;

/** All twenty-one lessons in order. */
export const contents: readonly LessonEntry[] = [
  {number: 1, slug: "01-the-wire", title: "The wire", adds: "guitar, cable, amplifier", written: true},
  {
    number: 2,
    slug: "02-in-the-way",
    title: "A resistor and a capacitor in the way",
    adds: "R1, C1, R2",
    written: true,
  },
  {number: 3, slug: "03-half-the-supply", title: "Half the supply", adds: "R8, R9, C8, D3", written: false},
  {number: 4, slug: "04-follower", title: "The op-amp as a follower", adds: "U1", written: false},
  {number: 5, slug: "05-gain", title: "Gain from two resistors", adds: "RV1, R3", written: false},
  {number: 6, slug: "06-leg-capacitor", title: "The leg capacitor", adds: "C3", written: true},
  {number: 7, slug: "07-out-again", title: "Out again", adds: "C5, RV2", written: false},
  {number: 8, slug: "08-out-of-room", title: "Running out of room", adds: "gain wide open", written: false},
  {number: 9, slug: "09-top-cut", title: "A small capacitor across the gain", adds: "C4", written: false},
  {number: 10, slug: "10-two-diodes", title: "Two diodes", adds: "D1, D2", written: true},
  {number: 11, slug: "11-which-diodes", title: "Which diodes", adds: "other diodes", written: false},
  {number: 12, slug: "12-bass-first", title: "Bass before the clipper", adds: "a larger C3", written: false},
  {number: 13, slug: "13-soft-and-hard", title: "Soft against hard", adds: "diodes moved", written: false},
  {number: 14, slug: "14-tone-control", title: "A tone control from three parts", adds: "R5, RV3, C6", written: false},
  {number: 15, slug: "15-tone-capacitor", title: "Swapping the tone capacitor", adds: "another C6", written: false},
  {number: 16, slug: "16-wire-to-pedal", title: "From wire to pedal", adds: "one long listen", written: false},
  {number: 17, slug: "17-noise", title: "Noise", adds: "what hisses", written: false},
  {number: 18, slug: "18-real-parts", title: "Real parts", adds: "tolerance", written: false},
  {number: 19, slug: "19-page-to-bench", title: "From page to bench", adds: "the parts list", written: false},
  {number: 20, slug: "20-find-the-fault", title: "Find the fault", adds: "one broken part", written: false},
  {number: 21, slug: "21-your-own", title: "Your own", adds: "your values", written: false},
];

/** The entry of lesson `number`. Throws a RangeError if the course has no such lesson. */
export function lessonEntry(number: number): LessonEntry {
  const entry = contents[number - 1];
  if (!entry) throw new RangeError(`the course has no lesson ${number}; lessons run from 1 to ${contents.length}`);
  return entry;
}
