import {effect} from "@preact/signals-core";
import {letGo, partInHand, pinned, takeInHand} from "../bench-state/bench-state.ts";

/**
 * Lets the part in hand follow the paragraph being read, and lights its name in the prose. A press on a name pins it; a
 * second press lets it go again.
 */
class PartReaderElement extends HTMLElement {
  #stop?: () => void;
  #observer: IntersectionObserver | undefined;

  connectedCallback() {
    const names = Array.from(document.querySelectorAll<HTMLElement>(".part-name[data-ref]"));
    for (const name of names) {
      name.addEventListener("click", () => {
        const ref = name.dataset["ref"] ?? "";
        if (pinned.value && partInHand.value === ref) letGo();
        else takeInHand(ref, {pin: true});
      });
    }
    this.#stop = effect(() => {
      for (const name of names) {
        const inHand = name.dataset["ref"] === partInHand.value;
        name.classList.toggle("in-hand", inHand);
        name.setAttribute("aria-pressed", String(inHand && pinned.value));
      }
    });
    // A band across the middle of the window is where one reads.
    this.#observer = new IntersectionObserver(
      (entries) => {
        const entering = entries.find(({isIntersecting}) => isIntersecting);
        const ref = entering?.target instanceof HTMLElement ? entering.target.dataset["part"] : undefined;
        if (ref) takeInHand(ref);
      },
      {rootMargin: "-45% 0px -45% 0px"},
    );
    for (const section of document.querySelectorAll(".lesson-text [data-part]")) this.#observer.observe(section);
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#observer?.disconnect();
  }
}

customElements.define("part-reader", PartReaderElement);
