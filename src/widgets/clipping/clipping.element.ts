import {computed, effect} from "@preact/signals-core";
import {benchView, note} from "../bench-state/bench-state.ts";
import {noteNamed} from "../bench-state/notes.ts";
import {onChange} from "../bench-state/on-change.ts";
import {afterSound} from "../bench-state/sound-first.ts";
import type {LiveClipping} from "./live-clipping.ts";

/** Draws one note through the clipping stage anew when bench or note move. What it needs comes with the first sign of a move. */
class ClippingFigureElement extends HTMLElement {
  #stops: readonly (() => void)[] = [];
  #live: Promise<LiveClipping> | undefined;

  connectedCallback() {
    const choices = Array.from(this.querySelectorAll<HTMLInputElement>("input[name=note]"));
    this.addEventListener("change", ({target}) => {
      if (target instanceof HTMLInputElement && choices.includes(target)) note.value = noteNamed(target.value);
    });
    const both = computed(() => [benchView.value, note.value] as const);
    this.#stops = [
      effect(() => {
        for (const choice of choices) choice.checked = choice.value === note.value.name;
      }),
      onChange(both, async () => (await afterSound(this.live)).follow()),
    ];
    // The first touch of a control is the sign that cycles will be needed: at every stop of the level, or the first drag waits.
    for (const sign of ["pointerdown", "focusin"]) document.addEventListener(sign, this.#touched, {passive: true});
  }

  disconnectedCallback() {
    for (const stop of this.#stops) stop();
    this.#restUntouched();
    void this.#live?.then((live) => live.halt());
  }

  get live(): Promise<LiveClipping> {
    return (this.#live ??= import("./live-clipping.ts").then(({liveClipping}) => liveClipping(this)));
  }

  #touched = async ({target}: Event) => {
    if (!(target instanceof Element) || !(target.closest(".control") || this.contains(target))) return;
    this.#restUntouched();
    (await this.live).prepare();
  };

  #restUntouched() {
    for (const sign of ["pointerdown", "focusin"]) document.removeEventListener(sign, this.#touched);
  }
}

customElements.define("clipping-figure", ClippingFigureElement);
