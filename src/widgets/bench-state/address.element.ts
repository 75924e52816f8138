import {batch, effect} from "@preact/signals-core";
import {lessonBones} from "../lesson-text/bones.ts";
import {announce} from "./announce.ts";
import {held, lesson, note, now, nowSetting} from "./bench-state.ts";

/** Keeps the bench in the address, so that a link brings it back, and reads one that was opened. */
class BenchAddressElement extends HTMLElement {
  #stop?: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;

  connectedCallback() {
    void this.#read();
    addEventListener("hashchange", this.#read);
    let first = true;
    this.#stop = effect(() => {
      const [now, before, at] = [nowSetting.value, held.value, note.value];
      if (first) {
        first = false;
        return;
      }
      clearTimeout(this.#timer);
      this.#timer = setTimeout(async () => {
        const {addressOf} = await import("./address.ts");
        const address = addressOf(now, before, at);
        history.replaceState(history.state, "", address ? `#${address}` : location.pathname + location.search);
      }, 250);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    removeEventListener("hashchange", this.#read);
  }

  #read = async () => {
    const hash = location.hash.slice(1);
    // A plain fragment is a place on the page, not a bench.
    if (hash === "" || lessonBones.includes(hash) || document.getElementById(hash)) return;
    const {readAddress} = await import("./address.ts");
    const read = readAddress(hash, lesson.value);
    batch(() => {
      now.value = read.now.settings;
      held.value = read.held;
      note.value = read.note;
    });
    const notice = this.querySelector("p");
    if (!notice) throw new Error("<bench-address> needs its notice");
    notice.hidden = read.notUnderstood.length === 0;
    if (read.notUnderstood.length === 0) return;
    const list = read.notUnderstood.map((entry) => `“${entry.slice(0, 40)}”`).join(", ");
    notice.textContent = `Part of this link could not be read and was left out: ${list}. Everything else stands as linked.`;
    announce(notice.textContent);
  };
}

customElements.define("bench-address", BenchAddressElement);
