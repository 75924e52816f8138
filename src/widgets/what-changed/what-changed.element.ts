import {benchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";

/** Rewrites its sentence when before or now move. */
class WhatChangedElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const place = required(this, "p", HTMLElement);
    this.#stop = onChange(benchView, async (view) => {
      const {whatChanged} = await import("./what-changed.ts");
      place.textContent = whatChanged(view);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("what-changed", WhatChangedElement);
