import Bone from "../widgets/lesson-text/Bone.astro";
import PartName from "../widgets/lesson-text/PartName.astro";
import Clipping from "../widgets/clipping/Clipping.astro";
import Formula from "../widgets/formula/Formula.astro";
import GuitarDrawing from "../widgets/schematic/GuitarDrawing.astro";
import Guess from "../widgets/guess/Guess.astro";
import Reading from "../widgets/reading/Reading.astro";
import ResponseTable from "../widgets/response/ResponseTable.astro";
import WhatChanged from "../widgets/what-changed/WhatChanged.astro";
import Word from "./words/Word.astro";
import LessonExercises from "./exercises/LessonExercises.astro";

/** What a lesson may place in its text, by the name it is placed by. */
export const lessonWidgets = {
  Bone,
  Part: PartName,
  Clipping,
  Formula,
  Guess,
  GuitarDrawing,
  Reading,
  ResponseTable,
  WhatChanged,
  Word,
  Exercises: LessonExercises,
} as const;
