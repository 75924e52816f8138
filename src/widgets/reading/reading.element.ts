import {benchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import type {ReadingName} from "../bench-state/readings.ts";

/** Shows one reading of the bench, and moves it when the bench moves. */
class LiveReadingElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    // The build lets only known names through.
    const name = this.getAttribute("name") as ReadingName;
    this.#stop = onChange(benchView, async (view) => {
      const {readingText} = await import("../bench-state/figures.ts");
      const text = readingText(name, view);
      if (this.textContent !== text) this.textContent = text;
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("live-reading", LiveReadingElement);
