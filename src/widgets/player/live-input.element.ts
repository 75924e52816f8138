import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {required} from "../required.ts";
import type {LiveInput} from "./live/live-input.ts";

/** What an open input asks of the player around it: to play this, so many times as large; undefined when it has been closed. */
export type InputAsked = CustomEvent<Readonly<{stream: MediaStream | undefined; scale: number}>>;

const works = () => import("./live/live-input.ts");
/** Until something has been strummed: a line input's full scale is taken as the hardest strum. */
const quietest = 10 ** (-40 / 20);

/** Opens a guitar's input, measures its hardest strum, and hands it to the player. */
class LiveInputElement extends HTMLElement {
  #input: LiveInput | undefined;
  #meter: ReturnType<typeof setInterval> | undefined;
  #analyser: AnalyserNode | undefined;
  #context: AudioContext | undefined;
  #hardest = quietest;

  connectedCallback() {
    this.hidden = !navigator.mediaDevices?.getUserMedia || typeof AudioWorkletNode === "undefined";
    required(this, ".open-input", HTMLButtonElement).addEventListener("click", () => {
      if (this.#input) this.#close("The input is closed; the phrase plays again.");
      else void this.#open();
    });
    required(this, "select", HTMLSelectElement).addEventListener("change", ({currentTarget}) => {
      const {value} = currentTarget as HTMLSelectElement;
      this.#input?.close();
      void this.#open(value);
    });
    required(this, ".again", HTMLButtonElement).addEventListener("click", () => {
      this.#hardest = quietest;
      this.#ask();
    });
  }

  disconnectedCallback() {
    if (this.#input) this.#close("");
  }

  /** Told by the player, which knows the way from the input to the ear. */
  set latencySeconds(seconds: number) {
    required(this, ".latency", HTMLElement).textContent =
      `From the computer to your ear it takes about ${formatQuantity(seconds, "s", {figures: 2})}, and the interface adds its own. Beyond some 20\u00a0ms a player feels it (common practice, no published source).`;
  }

  async #open(id?: string) {
    const {openInput, inputDevices} = await works();
    this.#tell("Asking the browser for the input …");
    const opened = await openInput(id);
    if (!opened.ok) return this.#tell(opened.message, true);
    this.#input = opened.input;
    opened.input.onGone(() => this.#close("The input has gone away, so it was muted; the phrase plays again."));
    this.#show(true);
    this.#tell(`“${opened.input.name}” is open.`);
    const select = required(this, "select", HTMLSelectElement);
    select.replaceChildren(
      ...(await inputDevices()).map(({id, name}) => new Option(name, id, false, name === opened.input.name)),
    );
    this.#measure(opened.input.stream);
    this.#ask();
  }

  /** Watches the raw input beside the sound, and keeps its largest size. */
  #measure(stream: MediaStream) {
    this.#stopMeasuring();
    this.#context = new AudioContext();
    this.#analyser = this.#context.createAnalyser();
    this.#analyser.fftSize = 8192;
    this.#context.createMediaStreamSource(stream).connect(this.#analyser);
    const samples = new Float32Array(this.#analyser.fftSize);
    const meter = required(this, "meter", HTMLMeterElement);
    const peak = required(this, ".peak", HTMLElement);
    this.#meter = setInterval(() => {
      this.#analyser?.getFloatTimeDomainData(samples);
      const size = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
      meter.value = Math.max(-60, 20 * Math.log10(size || 1e-9));
      if (size > this.#hardest * 1.01) {
        this.#hardest = size;
        this.#ask();
      }
      const hardest = formatQuantity(20 * Math.log10(this.#hardest), "dB", {figures: 2});
      peak.textContent = this.#hardest > quietest ? `hardest so far: ${hardest} of full scale` : "nothing heard yet";
    }, 100);
  }

  #stopMeasuring() {
    clearInterval(this.#meter);
    void this.#context?.close();
    this.#context = undefined;
  }

  #ask() {
    const detail = {stream: this.#input?.stream, scale: 1 / this.#hardest};
    this.dispatchEvent(new CustomEvent("inputasked", {bubbles: true, detail}) satisfies InputAsked);
  }

  #close(sentence: string) {
    this.#input?.close();
    this.#input = undefined;
    this.#stopMeasuring();
    this.#ask();
    this.#show(false);
    this.#tell(sentence);
  }

  #show(open: boolean) {
    required(this, ".opened", HTMLElement).hidden = !open;
    required(this, ".open-input", HTMLElement).textContent = open ? "Close the input" : "Open the input";
  }

  #tell(sentence: string, wrong = false) {
    const told = required(this, ".told", HTMLElement);
    told.textContent = sentence;
    told.classList.toggle("wrong", wrong);
  }
}

customElements.define("live-input", LiveInputElement);
