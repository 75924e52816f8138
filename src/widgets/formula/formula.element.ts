import {computed} from "@preact/signals-core";
import {held, nowSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {readingText, type ReadingName} from "../bench-state/readings.ts";

/** Moves the quantities in a formula when the bench moves. */
class LiveFormulaElement extends HTMLElement {
  #stops: (() => void)[] = [];

  connectedCallback() {
    this.#stops = Array.from(this.querySelectorAll<Element>("[data-reading]"), (place) => {
      // The build let only known names through.
      const name = place.getAttribute("data-reading") as ReadingName;
      const text = computed(() => readingText(name, {now: nowSetting.value, held: held.value}));
      return onChange(text, (value) => (place.textContent = value));
    });
  }

  disconnectedCallback() {
    for (const stop of this.#stops) stop();
  }
}

customElements.define("live-formula", LiveFormulaElement);
