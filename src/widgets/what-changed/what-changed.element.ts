import {computed} from "@preact/signals-core";
import {held, nowSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";
import {whatChanged} from "./what-changed.ts";

/** Rewrites its sentence when before or now move. */
class WhatChangedElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const place = required(this, "p", HTMLElement);
    const sentence = computed(() => whatChanged({now: nowSetting.value, held: held.value}));
    this.#stop = onChange(sentence, (text) => (place.textContent = text));
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("what-changed", WhatChangedElement);
