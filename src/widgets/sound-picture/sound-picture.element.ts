import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {triggerIndex} from "../../engine/sound/trigger.ts";
import {required} from "../required.ts";
import {edgeVolts, sizeOf, spanSeconds, spectrumLine, waveLine} from "./lines.ts";
import {soundPicture, waiting} from "./picture.ts";
import "./sound-picture.css";

/** What goes into the circuit and what comes out of it at this moment, in volts. */
export type Watched = Readonly<{in: AnalyserNode; out: AnalyserNode}>;

const sides = ["in", "out"] as const;
/** A sine of peak 1 V reads this in an analyser: half its size, times the mean of a Blackman window (Web Audio API 1.0). */
const sineDb = 20 * Math.log10(0.42 / 2);
/** A scale that has become too large gives way after so long; one too small at once. */
const holdMilliseconds = 1500;
const wordsMilliseconds = 500;
/** By so much a peak may grow before the words follow at once. */
const grown = 1.1;
/** Where a reader wants no motion there are a few still pictures a second. */
const stillMilliseconds = 400;

/** Draws what goes in and what comes out, at the screen's rate, while it plays and is in sight. */
export class SoundPictureElement extends HTMLElement {
  #watched: Watched | undefined;
  #inSight = false;
  #frame = 0;
  #drawn = 0;
  #told = 0;
  #toldPeaks: readonly number[] = [];
  #edge = {volts: 0, since: 0};
  #last: Float32Array | undefined;
  readonly #volts = {in: new Float32Array(0), out: new Float32Array(0)};
  #bins = new Float32Array(0);
  readonly #still = matchMedia("(prefers-reduced-motion: reduce)");
  readonly #sight = new IntersectionObserver((entries) => {
    this.#inSight = entries.at(-1)?.isIntersecting ?? false;
    this.#go();
  });

  connectedCallback() {
    if (this.childElementCount === 0) this.append(soundPicture(document));
    this.#sight.observe(this);
  }

  disconnectedCallback() {
    this.#sight.disconnect();
    this.watch(undefined);
  }

  /** Draws this from now on; undefined: nothing plays, and what was drawn last stays. */
  watch(watched: Watched | undefined) {
    this.#watched = watched;
    this.#last = undefined;
    this.#toldPeaks = [];
    this.#edge = {volts: 0, since: 0};
    if (watched) this.#go();
    else cancelAnimationFrame(this.#frame);
  }

  #go() {
    cancelAnimationFrame(this.#frame);
    if (this.#watched && this.#inSight) this.#frame = requestAnimationFrame((at) => this.#look(at));
  }

  #look(at: number) {
    if (!this.#still.matches || at - this.#drawn >= stillMilliseconds) {
      this.#drawn = at;
      this.#draw(at);
    }
    this.#go();
  }

  #draw(at: number) {
    const watched = this.#watched;
    if (!watched) return;
    this.#read(watched);
    const {sampleRate} = watched.in.context;
    const span = Math.round(spanSeconds * sampleRate);
    // The newest stretch that surely holds a turn of the lowest string before the picture begins.
    const recent = (samples: Float32Array) => samples.subarray(Math.max(0, samples.length - 3 * span));
    const [given, heard] = sides.map((side) => recent(this.#volts[side])) as [Float32Array, Float32Array];
    const [inSize, outSize] = [sizeOf(given), sizeOf(heard)];
    this.#scale(Math.max(inSize.peakVolts, outSize.peakVolts), at);
    const from = triggerIndex(given, span, sampleRate, this.#last);
    this.#last = given.slice(from, from + span);
    this.#line("wave in", waveLine(given, from, span, this.#edge.volts));
    this.#line("wave out", waveLine(heard, from, span, this.#edge.volts));
    for (const side of sides) {
      if (this.#bins.length !== watched[side].frequencyBinCount)
        this.#bins = new Float32Array(watched[side].frequencyBinCount);
      watched[side].getFloatFrequencyData(this.#bins as Float32Array<ArrayBuffer>);
      for (let bin = 0; bin < this.#bins.length; bin++) this.#bins[bin] = (this.#bins[bin] ?? 0) - sineDb;
      this.#line(`spectrum ${side}`, spectrumLine(this.#bins, sampleRate / watched[side].fftSize));
    }
    // A note that has come since is told at once: the words never say less than what is drawn.
    const louder = [inSize, outSize].some(({peakVolts}, k) => peakVolts > grown * (this.#toldPeaks[k] ?? 0));
    if (at - this.#told < wordsMilliseconds && !louder) return;
    this.#told = at;
    this.#toldPeaks = [inSize.peakVolts, outSize.peakVolts];
    const words = (name: string, {peakVolts, rmsVolts}: typeof inSize) =>
      `${name}: peak ${formatQuantity(peakVolts, "V", {figures: 2})}, ${formatQuantity(rmsVolts, "V", {figures: 2})} rms`;
    this.#word(
      "sizes",
      outSize.peakVolts + inSize.peakVolts > 0 ? `${words("In", inSize)}. ${words("Out", outSize)}.` : waiting,
    );
  }

  /** Both sides at the same moment: the sound thread may go on between two looks, so the first is looked at again. */
  #read(watched: Watched) {
    const size = watched.in.fftSize;
    for (const side of sides) if (this.#volts[side].length !== size) this.#volts[side] = new Float32Array(size);
    const look = (side: (typeof sides)[number]) => {
      const samples = this.#volts[side];
      watched[side].getFloatTimeDomainData(samples as Float32Array<ArrayBuffer>);
      return [samples[0], samples[size >> 1], samples[size - 1]].join();
    };
    for (let tries = 0; tries < 3; tries++) {
      const before = look("in");
      look("out");
      if (look("in") === before) return;
    }
  }

  #scale(peakVolts: number, at: number) {
    const volts = edgeVolts(peakVolts);
    if (volts >= this.#edge.volts || at - this.#edge.since > holdMilliseconds) this.#edge = {volts, since: at};
    this.#word("edge above", formatQuantity(this.#edge.volts, "V"));
    this.#word("edge below", formatQuantity(-this.#edge.volts, "V"));
  }

  #line(name: string, data: string) {
    required(this, `[data-line="${name}"]`, SVGPathElement).setAttribute("d", data);
  }

  #word(name: string, words: string) {
    required(this, `[data-word="${name}"]`, HTMLElement).textContent = words;
  }
}

customElements.define("sound-picture", SoundPictureElement);
