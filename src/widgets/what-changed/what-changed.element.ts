import {atRest, restMilliseconds} from "../bench-state/at-rest.ts";
import {behind} from "../bench-state/behind.ts";
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
    const late = behind(level);
    // What has been said once finds room again: what follows does not jump while sentences are awaited, or a control is dragged.
    let longest = "";
    const keepRoom = () => {
      const said = `${gain.textContent} ${level.textContent}`;
      if (said.length > longest.length) longest = said;
      level.dataset["room"] = longest.slice(said.length);
    };
    keepRoom();
    this.#stop = onChange(benchView, async (view) => {
      clearTimeout(this.#rest);
      late.begin();
      const {nothingChanged, whatChanged} = await sentences();
      // A later move has come while the sentences were on their way: that one speaks.
      if (benchView.peek() !== view) return;
      gain.textContent = whatChanged(view);
      if (nothingChanged(view)) {
        level.textContent = "";
        keepRoom();
        return late.end();
      }
      // What was said of the bench before this move would look true beside it.
      level.textContent = follows;
      keepRoom();
      this.#rest = window.setTimeout(() => void sayLevel(level, view, late.end, keepRoom), restMilliseconds);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }
}

let fetched: Promise<typeof import("./what-changed.ts")> | undefined;
const sentences = () => (fetched ??= import("./what-changed.ts"));

const follows = "Loudness follows.";

/** Says what a move did to clipping and loudness, each when it has been worked out. */
async function sayLevel(place: HTMLElement, view: BenchView, done: () => void, said: () => void) {
  const [clipping, loudness] = [atRest("clippingChange", view), atRest("loudnessChange", view)];
  const stale = (words: string | undefined) => words === undefined || benchView.peek() !== view;
  const bent = await clipping;
  if (stale(bent)) return;
  place.textContent = `${bent} ${follows}`.trim();
  said();
  const louder = await loudness;
  if (stale(louder)) return;
  place.textContent = `${bent} ${louder}`.trim();
  said();
  done();
}

customElements.define("what-changed", WhatChangedElement);
