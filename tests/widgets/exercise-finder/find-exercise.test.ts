import {expect, test} from "vitest";
import {findExercise} from "../../../src/widgets/exercise-finder/find-exercise.ts";

const lessons = [{number: 6, href: "/lessons/06-leg-capacitor/", exercises: ["6.1", "6.2"]}];
const find = (text: string) => findExercise(text, lessons, 21);

test("a number is read as it may be copied from paper", () => {
  for (const text of ["6.2", " 6,2 ", "6-2", "6 . 2", "Exercise 6.2", "6.2."]) {
    expect(find(text), text).toEqual({ok: true, href: "/lessons/06-leg-capacitor/#exercise-6-2"});
  }
});

test("a lesson alone leads to its first exercise", () =>
  expect(find("6")).toEqual({ok: true, href: "/lessons/06-leg-capacitor/#exercise-6-1"}));

test("what leads nowhere gets a sentence that says what would", () => {
  const message = (text: string) => {
    const found = find(text);
    return found.ok ? found.href : found.message;
  };
  expect(message("")).toBe("Write the number as it is printed beside the exercise, such as 6.2.");
  expect(message("six")).toBe("Write the number as it is printed beside the exercise, such as 6.2.");
  expect(message("6.2.1")).toBe("Write the number as it is printed beside the exercise, such as 6.2.");
  expect(message("6.9")).toBe("Lesson 6 has the exercises 6.1 to 6.2.");
  expect(message("7.1")).toBe("Lesson 7 is still to come, and its exercises with it.");
  expect(message("34.1")).toBe("The lessons are numbered 1 to 21; there is no 34.");
  expect(message("0.1")).toBe("The lessons are numbered 1 to 21; there is no 0.");
});
