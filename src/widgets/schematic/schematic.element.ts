import {effect} from "@preact/signals-core";
import {benchKey} from "../bench-state/bench-key.ts";
import {alsoInHand, isInHand, letGo, nowSetting, partInHand, pinned, takeInHand} from "../bench-state/bench-state.ts";
import type {DrawingSize} from "./drawing.ts";
import {required} from "../required.ts";
import {onChange} from "../bench-state/on-change.ts";
import {afterSound} from "../bench-state/sound-first.ts";
import {wholeDrawing} from "./whole-drawing.ts";

/** The width from which the style sheet shows the wide drawing. */
const wideFromPx = 444;
const restMilliseconds = 200;

/** The circuit fragment, alive: values follow the bench, a part pointed at or focused is taken in hand, a press pins it. */
class LessonSchematicElement extends HTMLElement {
  #stops: readonly (() => void)[] = [];
  #rest: ReturnType<typeof setTimeout> | undefined;
  #size: DrawingSize = "wide";
  #shows: unknown = benchKey(nowSetting.peek());
  #width = new ResizeObserver(([entry]) => {
    this.#size = (entry?.contentRect.width ?? 0) < wideFromPx ? "compact" : "wide";
  });

  connectedCallback() {
    this.addEventListener("pointerover", this.#point);
    this.addEventListener("focusin", this.#point);
    this.addEventListener("click", this.#press);
    this.addEventListener("keydown", this.#key);
    if (this.querySelector("dialog")) wholeDrawing(this);
    this.#width.observe(this);
    this.#stops = [onChange(nowSetting, () => void this.#refresh()), effect(() => this.#light())];
  }

  disconnectedCallback() {
    for (const stop of this.#stops) stop();
    clearTimeout(this.#rest);
    this.#width.disconnect();
  }

  #point = ({target}: Event) => {
    const ref = partAt(target)?.dataset["ref"];
    if (ref) takeInHand(ref);
  };

  #press = ({target}: Event) => {
    const ref = partAt(target)?.dataset["ref"];
    if (!ref) return;
    if (pinned.value && partInHand.value === ref && alsoInHand.value.length === 0) letGo();
    else takeInHand(ref, {pin: true});
  };

  #key = (event: KeyboardEvent) => {
    const part = partAt(event.target);
    if (!part) return;
    const grips = Array.from(part.ownerSVGElement?.querySelectorAll<SVGGElement>(".grip") ?? []);
    const next = grips[stepTo(event.key, grips.indexOf(gripOf(part)), grips.length)];
    if (event.key === "Enter" || event.key === " ") this.#press(event);
    else if (!next) return;
    else {
      for (const each of grips) each.setAttribute("tabindex", each === next ? "0" : "-1");
      next.focus();
    }
    event.preventDefault();
  };

  #light() {
    for (const part of this.querySelectorAll<SVGGElement>(".part")) {
      const inHand = isInHand(part.dataset["ref"]);
      part.toggleAttribute("data-lit", inHand);
      gripOf(part).setAttribute("aria-pressed", String(inHand && pinned.value));
    }
  }

  /**
   * The drawing code comes with the first move: what was served needs none. While a control moves only the drawing in
   * sight follows it; the other, and the circuit in words, when it rests.
   */
  async #refresh() {
    // Where the guitar is not drawn, a move of the phrase level changes nothing here.
    const shows = this.querySelector("[data-ref=guitar]") ? nowSetting.value : benchKey(nowSetting.value);
    if (shows === this.#shows) return;
    this.#shows = shows;
    const {moveDrawing, refreshFragment} = await afterSound(import("./refresh-fragment.ts"));
    clearTimeout(this.#rest);
    moveDrawing(this, this.#size, nowSetting.value, partInHand.value);
    this.#light();
    this.#rest = setTimeout(() => {
      refreshFragment(this, nowSetting.value, partInHand.value);
      this.#light();
    }, restMilliseconds);
  }
}

const partAt = (target: EventTarget | null) =>
  target instanceof Element ? target.closest<SVGGElement>(".part") : null;

const gripOf = (part: Element) => required(part, ".grip", SVGGElement);

/** Index of the part that a key moves to from `index`, in signal order; −1 for other keys. */
function stepTo(key: string, index: number, count: number): number {
  if (key === "ArrowRight" || key === "ArrowDown") return (index + 1) % count;
  if (key === "ArrowLeft" || key === "ArrowUp") return (index - 1 + count) % count;
  if (key === "Home") return 0;
  return key === "End" ? count - 1 : -1;
}

customElements.define("lesson-schematic", LessonSchematicElement);
