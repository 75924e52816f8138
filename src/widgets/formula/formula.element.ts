import {benchView} from "../bench-state/bench-state.ts";
import {lazyFigures} from "../bench-state/lazy-figures.ts";
import {onChange} from "../bench-state/on-change.ts";
import type {ReadingName} from "../bench-state/readings.ts";

/** Moves the quantities in a formula when the bench moves. */
class LiveFormulaElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const places = Array.from(this.querySelectorAll("[data-reading]"));
    this.#stop = onChange(benchView, async (view) => {
      const {readingText} = await lazyFigures();
      for (const place of places) {
        // The build lets only known names through.
        const text = readingText(place.getAttribute("data-reading") as ReadingName, view);
        if (place.textContent !== text) place.textContent = text;
      }
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("live-formula", LiveFormulaElement);
