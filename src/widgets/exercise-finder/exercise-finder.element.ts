import {required} from "../required.ts";
import {findExercise, type LessonOfExercises} from "./find-exercise.ts";

/** Leads straight to the exercise whose number is typed, or whose number came with the address. */
class ExerciseFinderElement extends HTMLElement {
  connectedCallback() {
    const input = required(this, "input", HTMLInputElement);
    required(this, "form", HTMLFormElement).addEventListener("submit", (event) => {
      event.preventDefault();
      this.#find(input.value, input);
    });
    const asked = new URLSearchParams(location.search).get("number");
    if (asked === null) return;
    input.value = asked;
    this.#find(asked, input);
  }

  #find(text: string, input: HTMLInputElement) {
    const lessons = JSON.parse(this.dataset["lessons"] ?? "[]") as LessonOfExercises[];
    const found = findExercise(text, lessons, Number(this.dataset["lessonCount"]));
    if (found.ok) return location.assign(found.href);
    required(this, "[role=status]", HTMLElement).textContent = found.message;
    input.setAttribute("aria-invalid", "true");
    input.focus();
  }
}

customElements.define("exercise-finder", ExerciseFinderElement);
