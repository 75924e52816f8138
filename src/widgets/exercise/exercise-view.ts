import type {NumericExercise} from "../../engine/answers/numeric-exercise.ts";

type Around = Readonly<{
  id: string;
  question: string;
  hints: readonly [string, string, string];
  working: string;
}>;

/** An exercise as its widget shows it: a number to be typed, or a choice with a word for each. */
export type ExerciseView = Around &
  (
    | Readonly<{kind: "number"; marking: NumericExercise}>
    | Readonly<{
        kind: "choice";
        options: readonly Readonly<{value: string; label: string; says: string}>[];
        right: string;
      }>
  );
