import {atRest, restMilliseconds} from "../bench-state/at-rest.ts";
import {behind} from "../bench-state/behind.ts";
import {benchView} from "../bench-state/bench-state.ts";
import {lazyFigures} from "../bench-state/lazy-figures.ts";
import {onChange} from "../bench-state/on-change.ts";
import type {ReadingName} from "../bench-state/readings.ts";

/** Shows one reading of the bench, and moves it when the bench moves; one that takes long, when the bench has come to rest. */
class LiveReadingElement extends HTMLElement {
  #stop?: () => void;
  #rest = 0;

  connectedCallback() {
    // The build lets only known names through.
    const name = this.getAttribute("name") as ReadingName;
    const show = (text: string | undefined) => {
      if (text !== undefined && this.textContent !== text) this.textContent = text;
    };
    const slow = this.hasAttribute("data-at-rest");
    const late = behind(this);
    this.#stop = onChange(benchView, async (view) => {
      late.begin();
      if (slow) {
        return this.#afterRest(async () => {
          // What a rare bench without a settled cycle cannot tell stays dimmed.
          const text = await atRest("reading", view, {name}).catch(() => undefined);
          // Once the bench has moved on, a later answer is awaited.
          if (text === undefined || benchView.peek() !== view) return;
          show(text);
          late.end();
        });
      }
      const {readingText} = await lazyFigures();
      show(readingText(name, view));
      late.end();
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }

  #afterRest(act: () => Promise<void>) {
    clearTimeout(this.#rest);
    this.#rest = window.setTimeout(() => void act(), restMilliseconds);
  }
}

customElements.define("live-reading", LiveReadingElement);
