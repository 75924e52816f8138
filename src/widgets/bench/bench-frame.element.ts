import {required} from "../required.ts";

/** Puts the pinned bench away and brings it back, and tells the page how much of the window it covers. */
class BenchFrameElement extends HTMLElement {
  #sizes: ResizeObserver | undefined;

  connectedCallback() {
    const button = required(this, ".put-away", HTMLButtonElement);
    button.addEventListener("click", () => {
      const away = this.classList.toggle("away");
      button.setAttribute("aria-expanded", String(!away));
      const [verb] = button.childNodes;
      if (verb) verb.textContent = away ? "Bring back " : "Put away ";
    });
    const tray = document.querySelector<HTMLElement>(".bench-tray");
    const style = document.documentElement.style;
    this.#sizes = new ResizeObserver(() => {
      style.setProperty("--pinned-top", `${this.offsetHeight}px`);
      style.setProperty("--pinned-bottom", `${tray?.offsetHeight ?? 0}px`);
    });
    this.#sizes.observe(this);
    if (tray) this.#sizes.observe(tray);
  }

  disconnectedCallback() {
    this.#sizes?.disconnect();
  }
}

customElements.define("bench-frame", BenchFrameElement);
