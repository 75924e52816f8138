import {effect} from "@preact/signals-core";
import {controlsOf, type Control} from "../../engine/course/course-circuit.ts";
import {held, heldPlace, lesson, now, takeInHand, turn} from "../bench-state/bench-state.ts";
import {announcePlace, rotationOf, spokenPlace} from "./spoken-place.ts";
import {required} from "../required.ts";
import {pageStops, placeText, stopOf} from "./control-text.ts";
import {arcPath, pointerTurn} from "./knob.ts";

/** A row of stops, or the arc of a potentiometer: writes the bench state and shows what it says. */
class BenchSliderElement extends HTMLElement {
  #stop?: () => void;
  /** Whether a note stands under the entry. It speaks of what was just typed, and goes when the bench moves on. */
  #noted = false;

  connectedCallback() {
    const name = this.dataset["control"] ?? "";
    const control = controlsOf(lesson.value).find((each) => each.name === name);
    if (!control) throw new Error(`<bench-slider> names no control of lesson ${lesson.value}: "${name}"`);
    const range = required(this, "input[type=range]", HTMLInputElement);
    this.#listen(control, range);
    if (control.kind === "rotation") dragUpAndDown(range, (stop) => this.#turnTo(control, stop));
    let first = true;
    let shown: readonly unknown[] = [];
    const show = () => {
      const value = now.value[name] ?? control.start;
      const was = (void held.value, heldPlace(name));
      // Out of sight, what another control does to this one's words can wait until it is shown.
      if (shown[0] === value && shown[1] === was && this.closest("[hidden]")) return;
      shown = [value, was];
      if (this.#noted) this.#note("");
      if (first && value === control.start) this.#showWas(control, was, value);
      else this.#show(control, range, value, was);
      first = false;
    };
    this.#stop = effect(show);
    this.addEventListener("shown", show);
  }

  disconnectedCallback() {
    this.#stop?.();
  }

  #listen(control: Control, range: HTMLInputElement) {
    range.addEventListener("input", () => this.#turnTo(control, Number(range.value)));
    range.addEventListener("keydown", (event) => {
      const stop = stopOf(control, now.value[control.name] ?? control.start);
      const page = pageStops(control);
      const to = {PageUp: stop + page, PageDown: stop - page}[event.key];
      if (to !== undefined) this.#turnTo(control, to);
      else if (event.key === "Escape") this.#turnTo(control, stopOf(control, heldPlace(control.name) ?? control.start));
      else return;
      event.preventDefault();
    });
    for (const [selector, step] of [
      [".less", -1],
      [".more", 1],
    ] as const) {
      required(this, selector, HTMLButtonElement).addEventListener("click", () => {
        this.#turnTo(control, stopOf(control, now.value[control.name] ?? control.start) + step);
      });
    }
    this.addEventListener("focusin", () => takeInHand(control.ref));
    const entry = this.querySelector<HTMLInputElement>("input.control-value");
    if (!entry) return;
    const readEntry = () => void this.#read(control, entry);
    entry.addEventListener("change", readEntry);
    entry.addEventListener("keydown", (event) => {
      if (event.key === "Enter") readEntry();
      if (event.key !== "Escape") return;
      entry.value = placeText(control, now.value[control.name] ?? control.start);
      this.#note("");
    });
    entry.addEventListener("focus", () => {
      entry.select();
      void reader();
    });
  }

  #turnTo(control: Control, stop: number) {
    const value = control.values[Math.min(control.values.length - 1, Math.max(0, stop))];
    if (value === undefined) return;
    this.#note("");
    turn(control.name, value);
    void announcePlace(control, value);
  }

  /** Reads what was typed; text that cannot be read stays where it is, with a sentence beside it. */
  async #read(control: Control, entry: HTMLInputElement) {
    const text = entry.value.trim();
    const bench = now.value;
    if (text === placeText(control, bench[control.name] ?? control.start)) return this.#note("");
    const [{parseQuantity}, {nearestStop}] = await reader();
    // What moved while the reader was on its way, such as everything back to start, came after this entry and stands.
    if (now.value !== bench) return;
    const read = parseQuantity(text, control.unit);
    if (!read.ok) return this.#note(read.message, true);
    if (read.value <= 0)
      return this.#note(`A value above zero is needed, such as ${placeText(control, control.start)}.`, true);
    const value = nearestStop(control, read.value);
    turn(control.name, value);
    entry.value = placeText(control, value);
    const same = Math.abs(value / read.value - 1) < 1e-6;
    const nearest = control.kind === "part value" ? "The nearest that can be bought here" : "The nearest stop";
    this.#note(same ? "" : `I read this as ${read.readAs}. ${nearest} is ${placeText(control, value)}.`);
    void announcePlace(control, value);
  }

  #note(sentence: string, wrong = false) {
    const note = required(this, ".control-note", HTMLElement);
    note.textContent = sentence;
    this.#noted = sentence !== "";
    note.classList.toggle("wrong", wrong);
    this.querySelector("input.control-value")?.toggleAttribute("aria-invalid", wrong);
  }

  #show(control: Control, range: HTMLInputElement, value: number, was: number | undefined) {
    const stop = stopOf(control, value);
    range.value = String(stop);
    void spokenPlace(control, value).then((words) => range.setAttribute("aria-valuetext", words));
    required(this, ".less", HTMLButtonElement).disabled = stop === 0;
    required(this, ".more", HTMLButtonElement).disabled = stop === control.values.length - 1;
    const place = required(this, ".control-value", HTMLElement);
    if (place instanceof HTMLInputElement) place.value = placeText(control, value);
    else place.textContent = placeText(control, value);
    this.querySelector(".part-way")?.setAttribute("d", arcPath(value));
    this.querySelector<SVGLineElement>(".arc line")?.style.setProperty("rotate", `${pointerTurn(value)}deg`);
    const detail = this.querySelector(".detail");
    if (detail) void rotationOf(control.ref).then((words) => (detail.textContent = words));
    this.#showWas(control, was, value);
  }

  #showWas(control: Control, was: number | undefined, value: number) {
    const mark = this.querySelector<HTMLElement>(".was");
    const text = this.querySelector(".was-text");
    if (!mark || !text) return;
    mark.hidden = was === undefined;
    if (was !== undefined)
      mark.style.setProperty("--place", String(stopOf(control, was) / (control.values.length - 1)));
    text.textContent = was === undefined || was === value ? "" : `was ${placeText(control, was)}`;
  }
}

/** What reads a typed value, fetched when someone is about to type one. */
function reader() {
  return Promise.all([import("../../engine/quantities/parse-quantity.ts"), import("../bench-state/address.ts")]);
}

/** A knob is dragged up and down: 160 px are the whole turn. */
function dragUpAndDown(range: HTMLInputElement, turnTo: (stop: number) => void) {
  let from: {y: number; stop: number} | undefined;
  range.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    range.focus();
    range.setPointerCapture(event.pointerId);
    from = {y: event.clientY, stop: Number(range.value)};
  });
  range.addEventListener("pointermove", ({clientY}) => {
    if (from) turnTo(Math.round(from.stop + ((from.y - clientY) / 160) * Number(range.max)));
  });
  for (const end of ["pointerup", "pointercancel"] as const) range.addEventListener(end, () => (from = undefined));
}

customElements.define("bench-slider", BenchSliderElement);
