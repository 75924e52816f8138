import {effect} from "@preact/signals-core";
import {alsoInHand, isInHand, letGo, partInHand, pinned, takeInHand} from "../bench-state/bench-state.ts";

/**
 * Lets the part in hand follow the paragraph being read, and lights its name in the prose. A press on a name pins it; a
 * second press lets it go again.
 */
class PartReaderElement extends HTMLElement {
  #stop?: () => void;
  #observer: IntersectionObserver | undefined;
  #lead: HTMLElement | undefined;

  connectedCallback() {
    const names = Array.from(document.querySelectorAll<HTMLElement>(".part-name[data-ref]"));
    for (const name of names) {
      name.addEventListener("click", ({detail}) => {
        const ref = name.dataset["ref"] ?? "";
        if (pinned.value && partInHand.value === ref && alsoInHand.value.length === 0) return letGo();
        takeInHand(ref, {pin: true});
        // A press without a pointer: the next stop leads to the control, which lies far behind the text.
        if (detail === 0) this.#leadOn(name);
      });
    }
    this.#stop = effect(() => {
      for (const name of names) {
        const inHand = isInHand(name.dataset["ref"]);
        name.classList.toggle("in-hand", inHand);
        name.setAttribute("aria-pressed", String(inHand && pinned.value));
      }
    });
    // A band across the middle of the window is where one reads.
    this.#observer = new IntersectionObserver(
      (entries) => {
        // What is folded away has no height.
        const entering = entries.find(({isIntersecting, boundingClientRect: {height}}) => isIntersecting && height > 0);
        const parts = entering?.target instanceof HTMLElement ? entering.target.dataset["part"] : undefined;
        const [ref, ...also] = parts?.split(" ") ?? [];
        if (ref) takeInHand(ref, {also});
      },
      {rootMargin: "-45% 0px -45% 0px"},
    );
    for (const section of document.querySelectorAll(".lesson-text [data-part]")) this.#observer.observe(section);
  }

  #leadOn(name: HTMLElement) {
    this.#lead?.remove();
    const lead = document.createElement("button");
    lead.type = "button";
    lead.className = "to-control";
    lead.textContent = "to its control";
    lead.addEventListener("click", () => {
      const shown = document.querySelector(".bench .panel:not([hidden])");
      shown
        ?.querySelector<HTMLElement>("input[type=range], input[type=radio]:checked, select, button[role=switch]")
        ?.focus();
    });
    lead.addEventListener("blur", () => lead.remove());
    this.#lead = lead;
    name.after(lead);
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#observer?.disconnect();
  }
}

customElements.define("part-reader", PartReaderElement);
