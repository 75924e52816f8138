/** A written lesson: its number, its address, and the numbers of its exercises, such as "6.1", in order. */
export type LessonOfExercises = Readonly<{number: number; href: string; exercises: readonly string[]}>;

/** Where an exercise is, or a sentence that says what to write instead. */
export type FoundExercise = Readonly<{ok: true; href: string} | {ok: false; message: string}>;

/** The place of an exercise on its lesson's page. */
export const exerciseAnchor = (id: string): string => `exercise-${id.replace(".", "-")}`;

/**
 * Reads the number of an exercise as a reader copies it from paper: "6.2", "6,2", "Exercise 6-2"; a lesson alone leads to
 * the first of its exercises.
 *
 * @param lessonCount how many lessons the course has, written or not
 */
export function findExercise(text: string, lessons: readonly LessonOfExercises[], lessonCount: number): FoundExercise {
  const read = /^\D*?(\d{1,3})(?:\s*[.,:–-]\s*(\d{1,3}))?\.?\s*$/.exec(text);
  if (!read) return wrong("Write the number as it is printed beside the exercise, such as 6.2.");
  const [lesson, exercise] = [Number(read[1]), read[2] === undefined ? 1 : Number(read[2])];
  if (lesson < 1 || lesson > lessonCount)
    return wrong(`The lessons are numbered 1 to ${lessonCount}; there is no ${lesson}.`);
  const found = lessons.find(({number}) => number === lesson);
  const [first, last] = [found?.exercises[0], found?.exercises.at(-1)];
  if (!found || !first || !last) return wrong(`Lesson ${lesson} is still to come, and its exercises with it.`);
  const id = `${lesson}.${exercise}`;
  if (!found.exercises.includes(id)) return wrong(`Lesson ${lesson} has the exercises ${first} to ${last}.`);
  return {ok: true, href: `${found.href}#${exerciseAnchor(id)}`};
}

const wrong = (message: string): FoundExercise => ({ok: false, message});
