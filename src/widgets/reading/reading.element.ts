import {computed} from "@preact/signals-core";
import {held, nowSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {readings, readingText, type ReadingName} from "../bench-state/readings.ts";

const isReading = (name: string): name is ReadingName => name in readings;

/** Shows one reading of the bench, and moves it when the bench moves. */
class LiveReadingElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const name = this.getAttribute("name") ?? "";
    if (!isReading(name)) throw new Error(`<live-reading> names no reading: "${name}"`);
    const text = computed(() => readingText(name, {now: nowSetting.value, held: held.value}));
    this.#stop = onChange(text, (value) => (this.textContent = value));
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("live-reading", LiveReadingElement);
