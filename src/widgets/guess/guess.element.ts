import {keepGuess, keptGuess, notebookChanged} from "../notebook/notebook.ts";
import {required} from "../required.ts";
import {unfoldRest, unfoldWhenSought} from "./rest-of-lesson.ts";

const passed = "passed over";

/**
 * Keeps one prediction, and holds the bench still until there is one or the reader goes on without. What would answer it stays
 * out of sight so long (guess.css), and out of hearing of a screen reader.
 */
class GuessFirstElement extends HTMLElement {
  connectedCallback() {
    const id = this.dataset["guess"] ?? "";
    const form = required(this, "form", HTMLFormElement);
    const kept = keptGuess(id);
    if (kept !== undefined) this.#show(kept);
    // The page decided before it was painted: guess-open.js.
    else if (this.#main?.dataset["guess"] === "open") this.#holdBench(true, id);
    else this.#show(passed);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const chosen = this.querySelector<HTMLInputElement>("input:checked")?.value;
      if (chosen === undefined) {
        required(this, ".guess-said", HTMLElement).textContent =
          "Choose one first. A wrong guess teaches as much as a right one.";
        return;
      }
      this.#keep(id, chosen);
    });
    required(this, ".pass", HTMLButtonElement).addEventListener("click", () => this.#keep(id, passed));
    const readOn = this.parentElement?.querySelector<HTMLButtonElement>(".rest-waits button");
    readOn?.addEventListener("click", () => {
      const first = document.querySelector<HTMLElement>("#guess-first ~ section h2");
      this.#keep(id, passed, false);
      // The button has gone: the keyboard goes on where the text does.
      first?.setAttribute("tabindex", "-1");
      first?.focus({preventScroll: true});
    });
    unfoldWhenSought();
    document.addEventListener(notebookChanged, () => {
      const guess = keptGuess(id);
      if (guess === undefined) this.#ask();
      else this.#show(guess);
      this.#holdBench(guess === undefined, id);
    });
  }

  get #main() {
    return this.closest<HTMLElement>("main");
  }

  #keep(id: string, guess: string, reveal = true) {
    keepGuess(id, guess);
    this.#show(guess);
    this.#holdBench(false);
    if (!reveal) return;
    required(this, "details", HTMLDetailsElement).open = true;
    required(this, "summary", HTMLElement).focus();
  }

  /** Asks afresh: the guess was cleared. */
  #ask() {
    this.classList.remove("kept");
    for (const mark of this.querySelectorAll(".mark")) mark.remove();
    for (const option of this.querySelectorAll<HTMLInputElement>("input")) {
      option.checked = option.disabled = false;
      option.closest("label")?.classList.remove("chosen");
    }
    required(this, ".guess-said", HTMLElement).textContent = "";
    required(this, ".guess-row", HTMLElement).hidden = false;
    required(this, "details", HTMLDetailsElement).open = false;
  }

  #show(guess: string) {
    const answer = this.dataset["answer"];
    this.classList.add("kept");
    for (const option of this.querySelectorAll<HTMLInputElement>("input")) {
      const label = option.closest("label");
      option.checked = option.value === guess;
      option.disabled = true;
      label?.classList.toggle("chosen", option.checked);
      if (label && option.value === answer && !label.querySelector(".mark")) {
        const mark = document.createElement("span");
        mark.className = "mark";
        mark.textContent = "what happens";
        label.append(mark);
      }
    }
    const said = required(this, ".guess-said", HTMLElement);
    if (guess === passed) said.textContent = "You went on without a guess.";
    else
      said.textContent =
        guess === answer
          ? "Your guess is kept, and it is what happens."
          : "Your guess is kept. Something else happens.";
    required(this, ".guess-row", HTMLElement).hidden = true;
  }

  #holdBench(hold: boolean, id = "") {
    const main = this.#main;
    if (main) main.dataset["guess"] = hold ? "open" : "kept";
    if (main && hold) delete main.dataset["unasked"];
    if (!hold) unfoldRest();
    const controls = document.querySelector<HTMLElement>(".bench .controls");
    if (controls) controls.inert = hold;
    // A new 'before' would be the curve that is kept back; a picture of the sound and a sweep through the circuit show it as well.
    const waiting = [".keep", ".watch", ".own"];
    // Where before and now are the question, hearing them is the answer.
    if (this.hasAttribute("data-sound-answers")) waiting.push(".voices", ".stages-so-far");
    for (const part of document.querySelectorAll<HTMLElement>(`.bench :is(${waiting.join(", ")})`)) part.inert = hold;
    for (const drawing of document.querySelectorAll("[data-answers=now]")) {
      if (hold) drawing.setAttribute("aria-hidden", "true");
      else drawing.removeAttribute("aria-hidden");
    }
    const line = document.querySelector<HTMLElement>(".guess-waits");
    if (!line) return;
    line.hidden = !hold;
    const goOn = required(line, "button", HTMLButtonElement);
    if (!hold) return;
    const passOver = () => {
      this.#keep(id, passed, false);
      // The button has gone: the keyboard goes on where it stood, at the controls.
      const reachable = controls?.querySelectorAll<HTMLElement>("button, input, select, summary") ?? [];
      [...reachable].find((control) => control.checkVisibility())?.focus({preventScroll: true});
    };
    goOn.addEventListener("click", passOver, {once: true});
  }
}

customElements.define("guess-first", GuessFirstElement);
