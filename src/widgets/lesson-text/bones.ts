/** The bones of a lesson: their addresses and what the reader sees, in order. */
export const bones = {
  "what-we-add": "What we add",
  "guess-first": "Guess first",
  "hear-it": "Hear it",
  "see-it": "See it",
  why: "Why",
  "turn-it": "Turn it",
  remember: "Remember",
  exercises: "Exercises",
  "at-the-real-bench": "At the real bench",
} as const;

/** Addresses of the bones. */
export const lessonBones: readonly string[] = Object.keys(bones);
