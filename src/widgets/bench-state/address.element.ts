import {batch, effect} from "@preact/signals-core";
import {lessonBones} from "../lesson-text/bones.ts";
import {exerciseEntry, exerciseOfAddress, placeOfAddress} from "./address-place.ts";
import {required} from "../required.ts";
import {announce} from "./announce.ts";
import {held, lesson, note, now, nowSetting} from "./bench-state.ts";
import {lazyFigures} from "./lazy-figures.ts";
import {soundServed} from "./sound-first.ts";

/** Long enough for whatever is late to have said so, in milliseconds. */
const arrivedMilliseconds = 150;

/** Keeps the bench in the address, so that a link brings it back, and reads one that was opened. */
class BenchAddressElement extends HTMLElement {
  #stop?: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** The exercise that the opened link named: the address goes on naming it. */
  #exercise: string | undefined;

  connectedCallback() {
    void this.#read();
    addEventListener("hashchange", this.#read);
    let first = true;
    this.#stop = effect(() => {
      void [nowSetting.value, held.value, note.value];
      if (first) {
        first = false;
        return;
      }
      clearTimeout(this.#timer);
      this.#timer = setTimeout(() => void this.#write(), 250);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    removeEventListener("hashchange", this.#read);
  }

  async #write() {
    const {addressOf} = await import("./address.ts");
    const bench = addressOf(nowSetting.peek(), held.peek(), note.peek());
    const address = [bench, this.#exercise && exerciseEntry(this.#exercise)].filter(Boolean).join("&");
    history.replaceState(history.state, "", address ? `#${address}` : location.pathname + location.search);
  }

  /** `moved`: the reader went on from a bench to a place on the page, and the address should not lose the bench by it. */
  #read = async (moved?: HashChangeEvent) => {
    const hash = location.hash.slice(1);
    if (placeOfAddress(hash)) this.#exercise = exerciseOfAddress(hash) ?? this.#exercise;
    // A plain fragment is a place on the page, not a bench.
    if (hash === "" || lessonBones.includes(hash) || document.getElementById(hash)) {
      if (moved && new URL(moved.oldURL).hash.includes("=")) void this.#write();
      return;
    }
    const {readAddress} = await import("./address.ts");
    const read = readAddress(hash, lesson.value);
    const place = placeOfAddress(hash);
    this.#exercise = place ? exerciseOfAddress(hash) : undefined;
    batch(() => {
      now.value = read.now.settings;
      held.value = read.held;
      note.value = read.note;
    });
    void this.#arrived();
    if (place) show(place);
    const notUnderstood = [...read.notUnderstood, ...(read.exercise && !place ? [exerciseEntry(read.exercise)] : [])];
    this.#tell([...leftOut(notUnderstood), ...read.between]);
  };

  /** The bench of the link is set: what takes longer than this to follow is marked by itself from here on (behind.ts). */
  async #arrived() {
    await lazyFigures();
    await soundServed();
    setTimeout(() => this.closest("main")?.removeAttribute("data-coming"), arrivedMilliseconds);
  }

  /** Says what of the link stands otherwise than it asks, until the reader closes it. */
  #tell(sentences: readonly string[]) {
    const notice = required(this, "p", HTMLParagraphElement);
    notice.hidden = sentences.length === 0;
    if (sentences.length === 0) return;
    const told = sentences.join(" ");
    required(notice, "span", HTMLSpanElement).textContent = told;
    required(notice, "button", HTMLButtonElement).onclick = () => (notice.hidden = true);
    announce(told);
  }
}

function leftOut(notUnderstood: readonly string[]): readonly string[] {
  if (notUnderstood.length === 0) return [];
  const list = notUnderstood.map((entry) => `“${entry.slice(0, 40)}”`).join(", ");
  return [`Part of this link could not be read and was left out: ${list}. Everything else stands as linked.`];
}

/** Brings an exercise in sight, and the keyboard to it, as the browser does for a plain link. */
function show(place: HTMLElement) {
  place.scrollIntoView();
  const heading = place.querySelector<HTMLElement>("h3");
  heading?.setAttribute("tabindex", "-1");
  heading?.focus({preventScroll: true});
}

customElements.define("bench-address", BenchAddressElement);
