import {placeOfAddress} from "../bench-state/address-place.ts";
import {required} from "../required.ts";

/** Puts the pinned bench away and brings it back, and tells the page how much of the window it covers. */
class BenchFrameElement extends HTMLElement {
  #sizes: ResizeObserver | undefined;

  connectedCallback() {
    const back = required(this, ".bring-back", HTMLButtonElement);
    const away = required(document.body, ".bench-tray .put-away", HTMLButtonElement);
    const put = (isAway: boolean) => {
      this.classList.toggle("away", isAway);
      back.hidden = !isAway;
      (isAway ? back : away).focus({preventScroll: true});
    };
    away.addEventListener("click", () => put(true));
    back.addEventListener("click", () => put(false));
    const tray = document.querySelector<HTMLElement>(".bench-tray");
    const style = document.documentElement.style;
    let arrived = false;
    this.#sizes = new ResizeObserver(() => {
      style.setProperty("--pinned-top", `${this.offsetHeight}px`);
      style.setProperty("--pinned-bottom", `${tray?.offsetHeight ?? 0}px`);
      if (arrived) return;
      arrived = true;
      // The browser went to the place that the address names before anything was pinned over it.
      placeOfAddress(location.hash.slice(1))?.scrollIntoView();
    });
    this.#sizes.observe(this);
    if (tray) this.#sizes.observe(tray);
  }

  disconnectedCallback() {
    this.#sizes?.disconnect();
  }
}

customElements.define("bench-frame", BenchFrameElement);
