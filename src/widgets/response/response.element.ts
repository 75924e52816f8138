import {computed, effect} from "@preact/signals-core";
import {held, heldResponse, nowResponse, partInHand, takeInHand} from "../bench-state/bench-state.ts";
import type {ResponseCurve} from "../bench-state/curves.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";
import {drawingSizes} from "./drawing-sizes.ts";
import {frequencyAt, plotBox, xOf} from "./plot-box.ts";
import {cursorPlaces, readingAt, responseSummary, thirdOctavesHz} from "./summary.ts";

const morphMilliseconds = 160;

/** Draws the curves anew when the bench moves, and reads them by cursor. The drawing library comes when it is needed. */
class ResponsePlotElement extends HTMLElement {
  #stop?: () => void;
  #unlight?: () => void;
  #shown: ResponseCurve = nowResponse.peek();
  #ghost: ResponseCurve = heldResponse.peek();
  #frame = 0;
  #cursorHz = 1000;

  connectedCallback() {
    const both = computed(() => [nowResponse.value, heldResponse.value, held.value] as const);
    this.#stop = onChange(both, () => void this.#morph());
    const range = required(this, ".cursor-range", HTMLInputElement);
    range.addEventListener("input", () => this.#moveCursor(thirdOctavesHz[Number(range.value)] ?? 1000));
    range.addEventListener("focus", () => this.#moveCursor(this.#cursorHz));
    range.addEventListener("blur", () => this.#hideCursor());
    range.addEventListener("keydown", (event) => {
      const decade = {PageUp: 10, PageDown: -10}[event.key];
      if (decade === undefined) return;
      event.preventDefault();
      range.value = String(Number(range.value) + decade);
      range.dispatchEvent(new Event("input"));
    });
    const jump = required(this, "select", HTMLSelectElement);
    jump.addEventListener("change", () => {
      const place = jump.value === "" ? undefined : this.#places()[Number(jump.value)];
      if (place) this.#moveCursor(place.frequencyHz);
      jump.value = "";
    });
    this.addEventListener("pointerover", ({target}) => {
      const ref = target instanceof Element ? target.closest<SVGElement>(".mark-ring")?.dataset["ref"] : undefined;
      if (ref) takeInHand(ref);
    });
    this.#unlight = effect(() => this.#light(partInHand.value));
    // The first touch of a control is the sign that a drawing will be needed.
    document.addEventListener("pointerdown", this.#touched, {passive: true});
    document.addEventListener("focusin", this.#touched);
    for (const drawing of this.querySelectorAll<HTMLElement>(".response-drawing")) {
      const read = ({clientX}: PointerEvent) => {
        const {left, width} = drawing.getBoundingClientRect();
        const [, name = "wide"] = drawing.classList;
        const size = drawingSizes[name as keyof typeof drawingSizes];
        this.#moveCursor(frequencyAt(this.#box(size), ((clientX - left) / width) * size.width));
      };
      drawing.addEventListener("pointermove", read);
      drawing.addEventListener("pointerdown", read);
      drawing.addEventListener("pointerleave", () => this.#hideCursor());
    }
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#unlight?.();
    this.#restUntouched();
    cancelAnimationFrame(this.#frame);
  }

  #touched = ({target}: Event) => {
    if (!(target instanceof Element) || !target.closest(".control")) return;
    this.#restUntouched();
    void plotLibrary();
  };

  #restUntouched() {
    document.removeEventListener("pointerdown", this.#touched);
    document.removeEventListener("focusin", this.#touched);
  }

  #places = () => cursorPlaces(nowResponse.peek(), heldResponse.peek());

  #light(ref: string | undefined) {
    for (const ring of this.querySelectorAll<SVGElement>(".mark-ring")) {
      ring.toggleAttribute("data-lit", ring.dataset["ref"] === ref);
    }
  }

  #box(size: (typeof drawingSizes)[keyof typeof drawingSizes]) {
    return plotBox([nowResponse.peek(), heldResponse.peek()], size);
  }

  /** From the curve that is shown to the one that is true, in 160 ms; at once where motion is not wanted. */
  async #morph() {
    const library = await plotLibrary();
    if (this.#ghost !== heldResponse.peek()) {
      this.#ghost = heldResponse.peek();
      this.#draw(library, {moving: false, afresh: true});
    }
    const from = this.#shown;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const begun = performance.now();
    cancelAnimationFrame(this.#frame);
    const step = () => {
      const to = nowResponse.peek();
      const share = still ? 1 : Math.min(1, (performance.now() - begun) / morphMilliseconds);
      this.#shown = share === 1 ? to : between(from, to, 1 - (1 - share) ** 3);
      this.#draw(library, {moving: share < 1});
      if (share < 1) this.#frame = requestAnimationFrame(step);
      else this.#tell();
    };
    step();
    this.#say();
  }

  #draw({Plot, moveResponse, responsePlot}: Library, {moving, afresh = false}: {moving: boolean; afresh?: boolean}) {
    // Asking the drawings which of them shows would lay the page out twice a frame; the style sheet goes by this width.
    const shown = shownDrawing();
    for (const name of drawingNames) {
      // Those out of sight follow when the curve has come to rest: paper and a turned screen may show it.
      if (moving && name !== shown) continue;
      const view = {
        now: this.#shown,
        before: heldResponse.peek(),
        ...drawingSizes[name],
        name: `Frequency response. ${moving ? "" : this.#summary()}`,
      };
      const place = required(this, `.response-drawing.${name} .plot`, HTMLElement);
      const drawn = required(place, "svg", SVGSVGElement);
      if (afresh || !moveResponse(drawn, view)) place.replaceChildren(responsePlot(view, {document, Plot}));
    }
    this.#light(partInHand.peek());
  }

  #summary = () => responseSummary(nowResponse.peek(), heldResponse.peek());

  #tell() {
    required(this, ".summary", HTMLElement).textContent = this.#summary();
    this.#say();
    const places = this.#places();
    const jump = required(this, "select", HTMLSelectElement);
    jump.replaceChildren(
      ...[{name: "go to …", value: ""}, ...places.map(({name}, k) => ({name, value: String(k)}))].map(
        ({name, value}) => new Option(name, value),
      ),
    );
  }

  #moveCursor(frequencyHz: number) {
    this.#cursorHz = frequencyHz;
    for (const [name, size] of Object.entries(drawingSizes)) {
      const line = required(this, `.response-drawing.${name} .cursor-line`, HTMLElement);
      line.hidden = false;
      line.style.left = `${(100 * xOf(this.#box(size), frequencyHz)) / size.width}%`;
    }
    this.#say();
  }

  #hideCursor() {
    for (const line of this.querySelectorAll<HTMLElement>(".cursor-line")) line.hidden = true;
  }

  #say() {
    const words = readingAt(nowResponse.peek(), heldResponse.peek(), this.#cursorHz);
    const range = required(this, ".cursor-range", HTMLInputElement);
    range.value = String(Math.round(10 * Math.log10(this.#cursorHz / 1000)) + 17);
    range.setAttribute("aria-valuetext", words);
    required(this, "output", HTMLOutputElement).textContent = words;
  }
}

const drawingNames = ["wide", "middle", "compact"] as const;

const shownDrawing = () =>
  matchMedia("(width < 480px)").matches ? "compact" : matchMedia("(width < 1100px)").matches ? "middle" : "wide";

type Library = Awaited<ReturnType<typeof plotLibrary>>;

/** The drawing library and the drawing, one chunk, asked for at the first move. */
async function plotLibrary() {
  const [Plot, {responsePlot}, {moveResponse}] = await Promise.all([
    import("@observablehq/plot"),
    import("./response-plot.ts"),
    import("./move-response.ts"),
  ]);
  return {Plot, responsePlot, moveResponse};
}

function between(from: ResponseCurve, to: ResponseCurve, share: number): ResponseCurve {
  const gainDb = to.gainDb.map((db, k) => (from.gainDb[k] ?? db) * (1 - share) + db * share);
  return {...to, gainDb};
}

customElements.define("response-plot", ResponsePlotElement);
