import {keepAnswer, keptAnswer, notebookChanged} from "../notebook/notebook.ts";
import {required} from "../required.ts";
import type {ExerciseView} from "./exercise-view.ts";

/** Marks what the reader writes, keeps it, and marks it again when the page is opened anew. */
class LessonExerciseElement extends HTMLElement {
  #asked = 0;
  /** The answer that the feedback speaks of, and whether it was the right one. */
  #marked: Readonly<{text: string; right: boolean}> | undefined;

  connectedCallback() {
    const exercise = JSON.parse(this.dataset["exercise"] ?? "null") as ExerciseView;
    required(this, "form", HTMLFormElement).addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#check(exercise).then(() => inSight(required(this, ".feedback", HTMLElement)));
    });
    // A toggle does not bubble.
    const toggled = ({target}: Event) => target instanceof HTMLDetailsElement && target.open && inSight(target);
    this.addEventListener("toggle", toggled, {capture: true});
    this.addEventListener("input", () => this.#follow());
    document.addEventListener(notebookChanged, () => void this.#restore(exercise));
    if (keptAnswer(exercise.id)) void this.#restore(exercise);
  }

  get #input() {
    return this.querySelector<HTMLInputElement>("form input[type=text]");
  }

  /** Shows what is kept and marks it anew; nobody asked for that just now, so it is not read out. */
  async #restore(exercise: ExerciseView) {
    const text = keptAnswer(exercise.id)?.text;
    const input = this.#input;
    if (input) input.value = text ?? "";
    for (const option of this.querySelectorAll<HTMLInputElement>("input[type=radio]"))
      option.checked = option.value === text;
    const feedback = required(this, ".feedback", HTMLElement);
    feedback.setAttribute("aria-live", "off");
    if (text === undefined) this.#say([], false);
    else await this.#check(exercise, {again: true});
    setTimeout(() => feedback.setAttribute("aria-live", "polite"), 500);
  }

  /** `again`: the answer was given before, and counts once. */
  async #check(exercise: ExerciseView, {again = false} = {}) {
    if (exercise.kind === "choice") return this.#choice(exercise, again);
    const input = this.#input;
    const text = input?.value ?? "";
    const asked = ++this.#asked;
    // A screen reader hears it, also where it was quiet while the answer was being changed.
    if (!again) required(this, ".feedback", HTMLElement).setAttribute("aria-live", "polite");
    // Kept before it is marked: a page that is left meanwhile has it when it is opened again.
    if (!again) this.#keep(exercise.id, text, undefined);
    // What marks comes with the first answer.
    const marker = await import("./mark-entry.ts").catch(() => undefined);
    if (asked !== this.#asked) return;
    if (!marker)
      return this.#say(["What marks answers could not be fetched. Press Check again: this answer is kept."], false);
    const {isFormula, markEntry} = marker;
    if (isFormula(text, exercise.marking) && !again) this.#say(["Working it out …"], false);
    const marking = await markEntry(text, exercise.marking);
    // Another answer was given while this one was being worked out: that one counts.
    if (asked !== this.#asked) return;
    const counts = marking.status === "right" || marking.status === "not yet";
    if (!again && counts) this.#keep(exercise.id, text, marking.status);
    input?.toggleAttribute("aria-invalid", marking.status === "unreadable");
    if (marking.status === "unreadable" || marking.status === "unit missing")
      return this.#say([marking.message], false, text);
    const {message, readAs, accepted} = marking;
    const right = marking.status === "right";
    this.#say([message, `I read ${readAs}. ${right ? `Counted right: ${accepted}.` : ""}`.trim()], right, text);
  }

  #choice(exercise: Extract<ExerciseView, {kind: "choice"}>, again: boolean) {
    const chosen = this.querySelector<HTMLInputElement>("input:checked")?.value;
    const option = exercise.options.find(({value}) => value === chosen);
    if (!option) return this.#say(["Choose one first."], false);
    const right = option.value === exercise.right;
    if (!again) this.#keep(exercise.id, option.value, right ? "right" : "not yet");
    this.#say([right ? option.says : `Not yet. ${option.says}`], right, option.value);
  }

  /** What is not marked, or could not be, is kept as well, and counts as no try. */
  #keep(id: string, text: string, marked: "right" | "not yet" | undefined) {
    const {status = "unread", tries = 0} = keptAnswer(id) ?? {};
    keepAnswer(id, {text, status: marked ?? status, tries: tries + (marked ? 1 : 0)});
  }

  /** While the answer is changed, what was said of the one before says so; it stands as it was when that is back. */
  #follow() {
    const marked = this.#marked;
    if (!marked) return;
    const text = this.#input?.value ?? this.querySelector<HTMLInputElement>("input:checked")?.value;
    const feedback = required(this, ".feedback", HTMLElement);
    const earlier = feedback.querySelector(".earlier");
    const same = text === marked.text;
    feedback.classList.toggle("right", same && marked.right);
    if (same) earlier?.remove();
    if (same || earlier) return;
    // Only who reads is told: it would be spoken in the middle of typing.
    feedback.setAttribute("aria-live", "off");
    const said = document.createElement("p");
    said.className = "read earlier";
    said.textContent = this.#input ? `To your answer before, ${marked.text}:` : "To your choice before:";
    feedback.prepend(said);
  }

  /** `text`: the answer that is spoken of, where one was given. */
  #say(sentences: readonly string[], right: boolean, text?: string) {
    const feedback = required(this, ".feedback", HTMLElement);
    this.#marked = text === undefined ? undefined : {text, right};
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

/** Moves the page no further than what is pinned over it demands (scroll margins in lesson.css). */
const inSight = (element: HTMLElement) => element.scrollIntoView({block: "nearest"});

customElements.define("lesson-exercise", LessonExerciseElement);
