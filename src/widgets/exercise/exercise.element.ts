import {fittingUnit, markAnswer, markValue, type Marking} from "../../engine/answers/mark-answer.ts";
import {plainAnswer} from "../../engine/answers/plain-answer.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {keepAnswer, keptAnswer} from "../notebook/notebook.ts";
import {required} from "../required.ts";
import type {ExerciseView} from "./exercise-view.ts";
import {isExpression} from "./expression.ts";

/** Marks what the reader writes and keeps the last answer that counted. */
class LessonExerciseElement extends HTMLElement {
  #asked = 0;

  connectedCallback() {
    const exercise = JSON.parse(this.dataset["exercise"] ?? "null") as ExerciseView;
    const form = required(this, "form", HTMLFormElement);
    const kept = keptAnswer(exercise.id);
    const input = form.querySelector<HTMLInputElement>("input[type=text]");
    if (kept && input) input.value = kept.text;
    if (kept && !input)
      for (const option of form.querySelectorAll("input")) option.checked = option.value === kept.text;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#check(exercise, input);
    });
  }

  async #check(exercise: ExerciseView, input: HTMLInputElement | null) {
    if (exercise.kind === "choice") return this.#choice(exercise);
    const text = input?.value ?? "";
    const asked = ++this.#asked;
    if (isExpression(plainAnswer(text))) this.#say(["Working it out …"], false);
    const marking = await mark(plainAnswer(text), exercise);
    // Another answer was given while this one was being worked out: that one counts.
    if (asked !== this.#asked) return;
    input?.toggleAttribute("aria-invalid", marking.status === "unreadable");
    if (marking.status === "unreadable" || marking.status === "unit missing")
      return this.#say([marking.message], false);
    const tries = (keptAnswer(exercise.id)?.tries ?? 0) + 1;
    keepAnswer(exercise.id, {text, status: marking.status, tries});
    const {message, readAs, accepted} = marking;
    const right = marking.status === "right";
    this.#say([message, `I read ${readAs}. ${right ? `Counted right: ${accepted}.` : ""}`.trim()], right);
  }

  #choice(exercise: Extract<ExerciseView, {kind: "choice"}>) {
    const chosen = this.querySelector<HTMLInputElement>("input:checked")?.value;
    const option = exercise.options.find(({value}) => value === chosen);
    if (!option) return this.#say(["Choose one first."], false);
    const right = option.value === exercise.right;
    const tries = (keptAnswer(exercise.id)?.tries ?? 0) + 1;
    keepAnswer(exercise.id, {text: option.value, status: right ? "right" : "not yet", tries});
    this.#say([right ? option.says : `Not yet. ${option.says}`], right);
  }

  #say(sentences: readonly string[], right: boolean) {
    const feedback = required(this, ".feedback", HTMLElement);
    feedback.classList.toggle("right", right);
    feedback.replaceChildren(
      ...sentences.map((sentence, index) => {
        const paragraph = document.createElement("p");
        paragraph.textContent = sentence;
        if (index > 0) paragraph.className = "read";
        return paragraph;
      }),
    );
  }
}

/** A number is marked at once; a formula is first worked out by a reader that is loaded when it is needed. */
async function mark(text: string, {marking}: Extract<ExerciseView, {kind: "number"}>): Promise<Marking> {
  if (!isExpression(text)) return markAnswer(text, marking);
  const {evaluateExpression} = await import("./evaluate-expression.ts");
  const read = evaluateExpression(text, marking.unit);
  if (!read.ok) return {status: "unreadable", message: read.message};
  if (!read.unitGiven && marking.unit !== "") {
    return {
      status: "unit missing",
      readAs: formatQuantity(read.value, marking.unit),
      message: `I worked that out as ${formatQuantity(read.value, "", {figures: 4})}. Write the unit after it too, such as ${fittingUnit(read.value, marking)}.`,
    };
  }
  return markValue(read.value, formatQuantity(read.value, marking.unit, {figures: 4}), marking);
}

customElements.define("lesson-exercise", LessonExerciseElement);
