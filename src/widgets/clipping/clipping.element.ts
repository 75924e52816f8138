import {benchView, type BenchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";

const restMilliseconds = 150;

/** Draws a cycle anew when the bench has come to rest: settling one takes tens of milliseconds, too long for every move. */
class ClippingFigureElement extends HTMLElement {
  #stop?: () => void;
  #rest = 0;

  connectedCallback() {
    this.#stop = onChange(benchView, (view) => {
      clearTimeout(this.#rest);
      this.#rest = window.setTimeout(() => void this.#draw(view), restMilliseconds);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }

  async #draw(view: BenchView) {
    const {clippingFigure} = await import("./clipping-view.ts");
    const figure = clippingFigure(view, document);
    if (!figure || view !== benchView.peek()) return;
    for (const place of this.querySelectorAll<HTMLElement>("[data-drawing]")) {
      const drawing = figure.drawings[place.dataset["drawing"] ?? ""];
      if (drawing) place.replaceChildren(drawing);
    }
    for (const [at, words] of [
      [".distortion", figure.distortion],
      [".summary", figure.summary],
    ] as const)
      this.querySelector(at)?.replaceChildren(words);
  }
}

customElements.define("clipping-figure", ClippingFigureElement);
