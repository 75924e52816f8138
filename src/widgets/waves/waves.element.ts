import {effect} from "@preact/signals-core";
import {onChange} from "../bench-state/on-change.ts";
import {heard, pictured, soundingSeconds} from "../player/heard.ts";
import {required} from "../required.ts";

/** Where a reader wants no motion the place of the sound goes on in steps of so many seconds. */
const stillSeconds = 0.4;

/** Follows the player: what is drawn is what is played, and a line goes along where the sound is. */
class WavePictureElement extends HTMLElement {
  #stop?: () => void;
  #leave?: () => void;

  connectedCallback() {
    pictured.value = true;
    this.#leave = this.#followSound();
    this.#stop = onChange(heard, async ({wire, now}) => {
      if (!wire || !now) return;
      const {secondsOf, takenPart, waveLines, wavesCaption, wavesSentence, zeroLine} = await import("./wave-lines.ts");
      const pair = {wire: wire.samples, now: now.samples};
      this.dataset["seconds"] = String(secondsOf(wire.samples));
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

  #followSound() {
    const line = required(this, ".sounding", HTMLElement);
    const still = matchMedia("(prefers-reduced-motion: reduce)");
    return effect(() => {
      const seconds = soundingSeconds.value;
      line.hidden = seconds === undefined;
      if (seconds === undefined) return;
      const shown = still.matches ? Math.floor(seconds / stillSeconds) * stillSeconds : seconds;
      line.style.setProperty("--place", Math.min(1, shown / Number(this.dataset["seconds"])).toFixed(4));
    });
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#leave?.();
  }
}

customElements.define("wave-picture", WavePictureElement);
