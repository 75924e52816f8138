import {placeOfAddress} from "../bench-state/address-place.ts";
import {required} from "../required.ts";

/**
 * Puts the pinned bench away and brings it back, shows all of its player when that is asked for, folds on Escape what it has unfolded,
 * and tells the page how much of the window it covers.
 */
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
    const tray = required(document.body, ".bench-tray", HTMLElement);
    const more = required(tray, ".more-of-player", HTMLButtonElement);
    more.addEventListener("click", () => {
      this.closest("#bench")?.setAttribute("data-used", "");
      // The button has gone: the keyboard goes on with what it has brought.
      required(tray, ".volume input", HTMLInputElement).focus();
    });
    tray.addEventListener("keydown", foldOnEscape);
    tray.addEventListener("toggle", ({target}) => leaveAlone(tray, target), {capture: true});
    const style = document.documentElement.style;
    const tell = (name: string, pixels: number) => {
      // Every element inherits it, so that to say it costs a look at the whole page.
      if (pixels !== told.get(name)) style.setProperty(name, `${pixels}px`);
      told.set(name, pixels);
    };
    const told = new Map<string, number>();
    const pinnedOver = matchMedia("(width < 1100px)");
    let arrived = false;
    this.#sizes = new ResizeObserver(() => {
      if (pinnedOver.matches) {
        tell("--pinned-top", this.offsetHeight);
        tell("--pinned-bottom", tray.offsetHeight);
      }
      if (arrived) return;
      arrived = true;
      // The browser went to the place that the address names before anything was pinned over it.
      placeOfAddress(location.hash.slice(1))?.scrollIntoView();
    });
    this.#sizes.observe(this);
    this.#sizes.observe(tray);
  }

  disconnectedCallback() {
    this.#sizes?.disconnect();
  }
}

/** What lies over the page would lie over what was unfolded before it as well, its name and its words: that one folds. */
function leaveAlone(tray: Element, target: EventTarget | null): void {
  const liesOver = (each: Element) => getComputedStyle(each).position === "absolute";
  if (!(target instanceof HTMLDetailsElement) || !target.open || !liesOver(target)) return;
  for (const other of tray.querySelectorAll<HTMLDetailsElement>("details[open]"))
    if (other !== target && liesOver(other)) other.open = false;
}

/** Folds the innermost of what is unfolded round the focus, which goes to its name. */
function foldOnEscape(event: KeyboardEvent): void {
  const unfolded = event.target instanceof Element ? event.target.closest("details[open]") : null;
  if (event.key !== "Escape" || !(unfolded instanceof HTMLDetailsElement)) return;
  unfolded.open = false;
  required(unfolded, "summary", HTMLElement).focus();
  event.preventDefault();
}

customElements.define("bench-frame", BenchFrameElement);
