import {effect} from "@preact/signals-core";
import {benchView, partInHand, takeInHand} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {afterSound} from "../bench-state/sound-first.ts";
import {sweepingHz} from "../player/heard.ts";
import {required} from "../required.ts";
import type {CurveDrawing} from "./curve-drawing.ts";
import type {ReadingCursor} from "./reading-cursor.ts";

/** Draws the curves anew when the bench moves, and reads them by cursor. What both need comes when it is needed. */
class ResponsePlotElement extends HTMLElement {
  #stops: readonly (() => void)[] = [];
  #drawing: Promise<CurveDrawing> | undefined;
  #cursor: Promise<ReadingCursor> | undefined;

  connectedCallback() {
    const range = required(this, ".cursor-range", HTMLInputElement);
    const jump = required(this, "select", HTMLSelectElement);
    range.addEventListener("input", async () => (await this.cursor).moveToStop(Number(range.value)));
    range.addEventListener("focus", async () => (await this.cursor).show());
    range.addEventListener("blur", async () => (await this.#cursor)?.hide());
    range.addEventListener("keydown", (event) => {
      const decade = {PageUp: 10, PageDown: -10}[event.key];
      if (decade === undefined) return;
      event.preventDefault();
      range.value = String(Number(range.value) + decade);
      range.dispatchEvent(new Event("input"));
    });
    jump.addEventListener("focus", async () => (await this.cursor).listPlaces());
    jump.addEventListener("change", async () => {
      (await this.cursor).moveToPlace(jump.value);
      jump.value = "";
    });
    for (const drawing of this.querySelectorAll<HTMLElement>(".response-drawing")) {
      const read = async ({clientX}: PointerEvent) => (await this.cursor).moveToPixel(drawing, clientX);
      drawing.addEventListener("pointermove", (event) => void read(event));
      drawing.addEventListener("pointerdown", (event) => void read(event));
      drawing.addEventListener("pointerleave", async () => (await this.#cursor)?.hide());
    }
    this.addEventListener("pointerover", ({target}) => {
      // A pointer that comes near may open the list of places, which must then be ready.
      void this.cursor;
      const ref = target instanceof Element ? target.closest<SVGElement>(".mark-ring")?.dataset["ref"] : undefined;
      if (ref) takeInHand(ref);
    });
    // The first touch of a control is the sign that a drawing will be needed.
    for (const sign of ["pointerdown", "focusin"]) document.addEventListener(sign, this.#touched, {passive: true});
    this.#stops = [
      onChange(benchView, async () => {
        (await afterSound(this.drawing)).follow();
        (await this.cursor).say();
      }),
      effect(() => void this.#light(partInHand.value)),
      onChange(sweepingHz, (hertz) => void this.#sweep(hertz)),
    ];
  }

  /** Follows a sweep that is heard; nobody wants to have every step of it read out. */
  async #sweep(hertz: number | undefined) {
    required(this, "output", HTMLOutputElement).setAttribute("aria-live", hertz === undefined ? "polite" : "off");
    const cursor = await this.cursor;
    if (hertz === undefined) cursor.hide();
    else cursor.moveToHz(hertz);
  }

  disconnectedCallback() {
    for (const stop of this.#stops) stop();
    this.#restUntouched();
    void this.#drawing?.then((drawing) => drawing.halt());
  }

  get drawing(): Promise<CurveDrawing> {
    return (this.#drawing ??= import("./curve-drawing.ts").then(({curveDrawing}) => curveDrawing(this)));
  }

  get cursor(): Promise<ReadingCursor> {
    return (this.#cursor ??= import("./reading-cursor.ts").then(({readingCursor}) => readingCursor(this)));
  }

  #touched = ({target}: Event) => {
    if (!(target instanceof Element) || !target.closest(".control")) return;
    this.#restUntouched();
    void this.drawing;
  };

  #restUntouched() {
    for (const sign of ["pointerdown", "focusin"]) document.removeEventListener(sign, this.#touched);
  }

  #light(ref: string | undefined) {
    for (const ring of this.querySelectorAll<SVGElement>(".mark-ring"))
      ring.toggleAttribute("data-lit", ring.dataset["ref"] === ref);
  }
}

customElements.define("response-plot", ResponsePlotElement);
