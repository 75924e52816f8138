import {exerciseEntry} from "../bench-state/address-place.ts";
import {held, note, nowSetting} from "../bench-state/bench-state.ts";
import {required} from "../required.ts";

/** Copies the address that brings this bench back, and the exercise it stands at; where copying is not allowed, shows it. */
class CopyLinkElement extends HTMLElement {
  connectedCallback() {
    required(this, "button", HTMLButtonElement).addEventListener("click", () => void this.#copy());
  }

  async #copy() {
    const {addressOf} = await import("../bench-state/address.ts");
    const {exercise} = this.dataset;
    const bench = addressOf(nowSetting.peek(), held.peek(), note.peek());
    const address = [bench, exercise && exerciseEntry(exercise)].filter(Boolean).join("&");
    const link = `${location.origin}${location.pathname}${location.search}${address ? `#${address}` : ""}`;
    const told = this.querySelector(".told") ?? required(this.closest(".said-row") ?? this, ".said", HTMLElement);
    try {
      await navigator.clipboard.writeText(link);
      told.textContent = `Copied. Whoever opens it finds ${exercise ? `exercise ${exercise} and ` : ""}the bench as it stands now.`;
    } catch {
      told.textContent = `Copy it from here: ${link}`;
    }
  }
}

customElements.define("copy-link", CopyLinkElement);
