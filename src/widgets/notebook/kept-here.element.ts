import {required} from "../required.ts";
import {clearLesson, isKeeping, notebookChanged} from "./notebook.ts";

/** Clears what is kept of a lesson, and brings it back on the next press. */
class KeptHereElement extends HTMLElement {
  #bringBack: (() => void) | undefined;

  connectedCallback() {
    const button = required(this, "button", HTMLButtonElement);
    if (!isKeeping()) {
      this.#say("This browser keeps nothing: your guess and your answers last as long as this page is open.");
      button.hidden = true;
    }
    button.addEventListener("click", () => {
      if (this.#bringBack) {
        this.#bringBack();
        this.#bringBack = undefined;
        this.#say("They are back, saved in this browser only.");
      } else {
        this.#bringBack = clearLesson(Number(this.dataset["lesson"]));
        this.#say(this.#bringBack ? "Cleared: the guess is open again." : "Nothing of this lesson is kept yet.");
      }
      // The guess stands far above, and the bench waits for it.
      required(this, "a", HTMLAnchorElement).hidden = this.#bringBack === undefined;
      button.textContent = this.#bringBack ? "Bring them back" : "Clear those of this lesson";
      document.dispatchEvent(new Event(notebookChanged));
    });
  }

  #say(sentence: string) {
    required(this, "p", HTMLElement).textContent = sentence;
  }
}

customElements.define("kept-here", KeptHereElement);
