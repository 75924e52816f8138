import {atRest, restMilliseconds} from "../bench-state/at-rest.ts";
import {benchView, type BenchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";

/** Rewrites its sentences when before or now move; those of clipping and loudness, when the bench has come to rest. */
class WhatChangedElement extends HTMLElement {
  #stop?: () => void;
  #rest = 0;

  connectedCallback() {
    const gain = required(this, "[data-says=gain]", HTMLElement);
    const level = required(this, "[data-says=level]", HTMLElement);
    this.#stop = onChange(benchView, async (view) => {
      clearTimeout(this.#rest);
      const {nothingChanged, whatChanged} = await sentences();
      gain.textContent = whatChanged(view);
      level.textContent = nothingChanged(view) ? "" : "Loudness follows.";
      if (!nothingChanged(view)) this.#rest = window.setTimeout(() => void sayLevel(level, view), restMilliseconds);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }
}

let fetched: Promise<typeof import("./what-changed.ts")> | undefined;
const sentences = () => (fetched ??= import("./what-changed.ts"));

async function sayLevel(place: HTMLElement, view: BenchView) {
  const [clipping, loudness] = [atRest("clippingChange", view), atRest("loudnessChange", view)];
  const bent = await clipping;
  if (bent === undefined) return;
  place.textContent = `${bent} Loudness follows.`.trim();
  const louder = await loudness;
  if (louder !== undefined) place.textContent = `${bent} ${louder}`.trim();
}

customElements.define("what-changed", WhatChangedElement);
