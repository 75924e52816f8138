import {onChange} from "../bench-state/on-change.ts";
import {heard, pictured} from "../player/heard.ts";
import {required} from "../required.ts";

/** Follows the player: what is drawn is what is played. */
class WavePictureElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    pictured.value = true;
    this.#stop = onChange(heard, async ({wire, now}) => {
      if (!wire || !now) return;
      const {takenPart, waveLines, wavesCaption, wavesSentence, zeroLine} = await import("./wave-lines.ts");
      const pair = {wire: wire.samples, now: now.samples};
      for (const [voice, {whole, part}] of Object.entries(waveLines(pair))) {
        required(this, `[data-whole=${voice}]`, SVGPathElement).setAttribute("d", whole);
        required(this, `[data-part=${voice}]`, SVGPathElement).setAttribute("d", part);
      }
      required(this, "[data-zero]", SVGPathElement).setAttribute("d", zeroLine(pair));
      const {width, opens} = takenPart(pair);
      for (const taken of this.querySelectorAll(".taken")) taken.setAttribute("width", String(width));
      required(this, ".opens path", SVGPathElement).setAttribute("d", opens);
      required(this, ".caption", HTMLElement).textContent = wavesCaption(pair);
      required(this, ".sentence", HTMLElement).textContent = wavesSentence(pair);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("wave-picture", WavePictureElement);
