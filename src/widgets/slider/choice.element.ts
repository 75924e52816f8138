import {effect} from "@preact/signals-core";
import {controlsOf} from "../../engine/course/course-circuit.ts";
import {held, heldPlace, lesson, now, takeInHand, turn} from "../bench-state/bench-state.ts";
import {required} from "../required.ts";
import {wasText} from "./control-text.ts";
import {announcePlace} from "./spoken-place.ts";

/** A choice among words, in a list or in a row, or a switch with a word on either side. */
class BenchChoiceElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const name = this.dataset["control"] ?? "";
    const control = controlsOf(lesson.value).find((each) => each.name === name);
    if (!control) throw new Error(`<bench-choice> names no control of lesson ${lesson.value}: "${name}"`);
    const select = this.querySelector("select");
    const toggle = this.querySelector("button");
    const radios = this.querySelectorAll<HTMLInputElement>("input[type=radio]");
    const choose = (value: number) => {
      turn(name, value);
      void announcePlace(control, value);
    };
    select?.addEventListener("change", () => choose(Number(select.value)));
    for (const radio of radios) radio.addEventListener("change", () => choose(Number(radio.value)));
    toggle?.addEventListener("click", () => choose(now.value[name] === 1 ? 0 : 1));
    // The word on either side is as good a place to press as the switch between them.
    const sides = this.querySelectorAll<HTMLElement>(".side");
    sides.forEach((side, place) => side.addEventListener("click", () => choose(place)));
    this.addEventListener("focusin", () => takeInHand(control.ref, {also: control.also}));
    this.#stop = effect(() => {
      const value = now.value[name] ?? control.start;
      if (select) select.value = String(value);
      for (const radio of radios) radio.checked = Number(radio.value) === value;
      toggle?.setAttribute("aria-checked", String(value === 1));
      const was = (void held.value, heldPlace(name));
      required(this, ".was-text", HTMLElement).textContent = wasText(control, was, value);
      for (const words of [sides, radios])
        words.forEach((word: HTMLElement, place) => word.toggleAttribute("data-was", place === was));
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("bench-choice", BenchChoiceElement);
