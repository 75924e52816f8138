import {effect} from "@preact/signals-core";
import {controlsOf, type Control} from "../../engine/course/course-circuit.ts";
import {held, heldPlace, lesson, now, nowSetting, takeInHand, turn} from "../bench-state/bench-state.ts";
import {lazyFigures} from "../bench-state/lazy-figures.ts";
import {announcePlace, rotationOf, spokenPlace} from "./spoken-place.ts";
import {required} from "../required.ts";
import {pageStops, placeText, pressedStop, stopOf, wasText} from "./control-text.ts";
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
        this.#turnTo(control, pressedStop(control, stopOf(control, now.value[control.name] ?? control.start), step));
      });
    }
    this.addEventListener("focusin", () => takeInHand(control.ref));
    const entry = required(this, "input.control-value", HTMLInputElement);
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

  /** Reads what was typed; text that cannot be read stays where it is, with a sentence beside it that says the value in use. */
  async #read(control: Control, entry: HTMLInputElement) {
    const text = entry.value.trim();
    const bench = now.value;
    if (text === placeText(control, bench[control.name] ?? control.start)) return this.#note("");
    const [{readEntry}, {circuitOf}] = await reader();
    // What moved while the reader was on its way, such as everything back to start, came after this entry and stands.
    if (now.value !== bench) return;
    const part = circuitOf(nowSetting.value).parts.find(({ref}) => ref === control.ref);
    const read = readEntry(text, control, part);
    if (!read.ok) {
      const inUse = placeText(control, bench[control.name] ?? control.start);
      return this.#note(`${read.message} Until then it stays at ${inUse}.`, true);
    }
    turn(control.name, read.value);
    entry.value = placeText(control, read.value);
    this.#note(read.note);
    void announcePlace(control, read.value);
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
    required(this, ".control-value", HTMLInputElement).value = placeText(control, value);
    this.querySelector(".part-way")?.setAttribute("d", arcPath(value));
    this.querySelector<SVGLineElement>(".arc .pointer")?.style.setProperty("rotate", `${pointerTurn(value)}deg`);
    const detail = this.querySelector(".behind-it");
    if (detail) void rotationOf(control.ref).then((words) => (detail.textContent = words));
    this.#showWas(control, was, value);
  }

  #showWas(control: Control, was: number | undefined, value: number) {
    const mark = required(this, ".was", Element);
    mark.toggleAttribute("hidden", was === undefined);
    const words = required(this, ".was-text", HTMLElement);
    words.textContent = wasText(control, was, value);
    if (mark instanceof SVGElement) {
      if (was !== undefined) mark.style.setProperty("rotate", `${pointerTurn(was)}deg`);
      return;
    }
    // The words stand under their mark; with no mark to point at, in the middle.
    const place = was === undefined ? 0.5 : stopOf(control, was) / (control.values.length - 1);
    for (const each of [mark as HTMLElement, words]) each.style.setProperty("--place", String(place));
    words.style.setProperty("--letters", String(words.textContent.length));
  }
}

/** What reads a typed value, fetched when someone is about to type one. */
const reader = () => Promise.all([import("./read-entry.ts"), lazyFigures()]);

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
