import {benchView, type BenchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import type {ReadingName} from "../bench-state/readings.ts";

const restMilliseconds = 150;

/** Shows one reading of the bench, and moves it when the bench moves; one that takes long, when the bench has come to rest. */
class LiveReadingElement extends HTMLElement {
  #stop?: () => void;
  #rest = 0;

  connectedCallback() {
    // The build lets only known names through.
    const name = this.getAttribute("name") as ReadingName;
    const show = async (view: BenchView) => {
      const {readingText} = await import("../bench-state/figures.ts");
      const text = readingText(name, view);
      if (this.textContent !== text) this.textContent = text;
    };
    const atRest = this.hasAttribute("data-at-rest");
    this.#stop = onChange(benchView, (view) => {
      clearTimeout(this.#rest);
      if (atRest) this.#rest = window.setTimeout(() => void show(view), restMilliseconds);
      else void show(view);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }
}

customElements.define("live-reading", LiveReadingElement);
