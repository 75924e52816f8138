import {effect} from "@preact/signals-core";
import {announce} from "../bench-state/announce.ts";
import {backToStart, isAtStart, nowIsAtStart} from "../bench-state/bench-state.ts";
import {required} from "../required.ts";

/** Shows its line while the bench is away from where the lesson starts, and brings it back. */
class BenchMovedElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    required(this, "button", HTMLButtonElement).addEventListener("click", () => {
      backToStart();
      announce("Every control is back where the lesson starts.");
      // The button is gone with its line: the heading over it takes the focus.
      const heading = this.closest("section")?.querySelector("h2");
      heading?.setAttribute("tabindex", "-1");
      heading?.focus({preventScroll: true});
    });
    this.#stop = effect(() => {
      this.hidden = isAtStart.value;
      required(this, "span", HTMLElement).textContent = nowIsAtStart.value
        ? "‘Before’ is another than this lesson starts with"
        : "Your bench has moved";
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("bench-moved", BenchMovedElement);
