import {effect} from "@preact/signals-core";
import {controlsOf, turnedControls} from "../../engine/course/course-circuit.ts";
import {announce} from "../bench-state/announce.ts";
import {backToStart, lesson, partInHand, takeInHand} from "../bench-state/bench-state.ts";
import {required} from "../required.ts";
import {controlOfPart} from "./control-of-part.ts";

/** Shows one control at a time: that of the part in hand, or the one picked by name. */
class BenchControlsElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const [turned, all] = [turnedControls(lesson.value), controlsOf(lesson.value)];
    const select = required(this, "select", HTMLSelectElement);
    this.addEventListener("click", ({target}) => {
      const button = target instanceof Element ? target.closest("button") : null;
      const name = button?.dataset["pick"];
      if (name) this.#pick(name);
      if (button?.classList.contains("reset")) this.#reset();
    });
    select.addEventListener("change", () => {
      if (select.value === "start") this.#reset();
      else if (select.value) this.#pick(select.value);
    });
    // On a phone the list stands alone and names what is shown.
    if (this.dataset["shown"]) this.#show(this.dataset["shown"]);
    let first = true;
    this.#stop = effect(() => {
      const ref = partInHand.value;
      if (first) return void (first = false);
      const shown = all.find(({name}) => name === this.dataset["shown"]);
      const control = controlOfPart(ref, {shown, turned, all});
      if (control) this.#show(control.name);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }

  #pick(name: string) {
    this.#show(name);
    const control = controlsOf(lesson.value).find((each) => each.name === name);
    if (control) takeInHand(control.ref, {pin: true, also: control.also});
  }

  #reset() {
    backToStart();
    announce("Every control is back where the lesson starts.");
    this.#show(this.dataset["shown"] ?? "");
  }

  #show(name: string) {
    this.dataset["shown"] = name;
    for (const panel of this.querySelectorAll<HTMLElement>("[data-panel]")) {
      const here = panel.dataset["panel"] === name;
      if (here && panel.hidden) queueMicrotask(() => panel.firstElementChild?.dispatchEvent(new Event("shown")));
      panel.hidden = !here;
    }
    for (const button of this.querySelectorAll<HTMLElement>("[data-pick]")) {
      button.setAttribute("aria-pressed", String(button.dataset["pick"] === name));
    }
    const named = this.querySelector(`[data-pick="${CSS.escape(name)}"]`) && matchMedia("(width >= 480px)").matches;
    required(this, "select", HTMLSelectElement).value = named ? "" : name;
  }
}

customElements.define("bench-controls", BenchControlsElement);
