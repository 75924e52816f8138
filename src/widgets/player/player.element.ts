import {computed} from "@preact/signals-core";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {amplitude} from "../../engine/sound/samples.ts";
import {held, keepAsBefore, nowSetting, wireSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";
import {loop, type Loop} from "./loop.ts";
import {loudnessSentence, mixed, voices, type Mixed, type Voice} from "./mix.ts";
import {ownSound} from "./own-sound.ts";
import {renderer, type Renderer} from "./renderer.ts";
import type {Rendering} from "./rendering.ts";

const settle = 150; // milliseconds after the last move of a control

/** Plays the bench. `renders()` gives what is played, for whoever wants to measure it. */
export class BenchPlayerElement extends HTMLElement {
  #stop?: () => void;
  #renderer: Renderer | undefined;
  #loop: Loop | undefined;
  #renderings: Partial<Record<Voice, Rendering>> = {};
  #mix: Partial<Record<Voice, Mixed>> = {};
  #voice: Voice = "now";
  #playing = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #round = 0;

  connectedCallback() {
    const play = required(this, ".play", HTMLButtonElement);
    play.addEventListener("click", () => void (this.#playing ? this.#halt() : this.#start()));
    for (const input of this.querySelectorAll<HTMLInputElement>("input[name=voice]")) {
      input.addEventListener("change", () => this.#choose(input.value as Voice));
    }
    required(this, ".same", HTMLButtonElement).addEventListener("click", ({currentTarget}) => {
      const button = currentTarget as HTMLButtonElement;
      button.setAttribute("aria-checked", String(!this.#sameLoudness));
      this.#remix();
    });
    const volume = required(this, ".volume input", HTMLInputElement);
    volume.addEventListener("input", () => {
      volume.setAttribute("aria-valuetext", volume.value === "0" ? "full" : `${-Number(volume.value)} decibels below full`);
      this.#loop?.volume(this.#gain);
    });
    required(this, ".keep", HTMLButtonElement).addEventListener("click", () => {
      keepAsBefore();
      this.#say("Kept: this is now what ‘before’ plays and what the dashed curve shows.");
    });
    this.#takeFiles();
    const benches = computed(() => [nowSetting.value, held.value] as const);
    this.#stop = onChange(benches, () => {
      clearTimeout(this.#timer);
      if (this.#renderer) this.#timer = setTimeout(() => void this.#render(), settle);
    });
    // Ready before the press, and out of the way of what the page does first.
    const idle = globalThis.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 800));
    if (document.readyState === "complete") idle(() => void this.#render());
    else addEventListener("load", () => idle(() => void this.#render()), {once: true});
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#halt();
  }

  /** What each voice plays: samples at 48 kHz under the ceiling, by how much it was turned down, and its loudness. */
  async renders(): Promise<Partial<Record<Voice, Mixed>>> {
    await this.#render();
    return this.#mix;
  }

  get #sameLoudness() {
    return required(this, ".same", HTMLButtonElement).getAttribute("aria-checked") === "true";
  }

  get #gain() {
    const decibels = Number(required(this, ".volume input", HTMLInputElement).value);
    return decibels <= -48 ? 0 : amplitude(decibels);
  }

  async #render() {
    const round = ++this.#round;
    const benches: Record<Voice, BenchSetting> = {now: nowSetting.peek(), before: held.peek(), wire: wireSetting};
    try {
      this.#renderer ??= renderer();
      const use = this.#renderer;
      const order: readonly Voice[] = [this.#voice, ...voices.filter((voice) => voice !== this.#voice)];
      const all = await Promise.all(order.map(async (voice) => [voice, await use.render(benches[voice])] as const));
      if (round !== this.#round) return;
      this.#renderings = Object.fromEntries(all);
      this.#remix();
    } catch (error) {
      this.#say(`The sound could not be made: ${error instanceof Error ? error.message : String(error)}. The rest of the lesson works on.`, true);
    }
  }

  #remix() {
    this.#mix = mixed(this.#renderings, this.#sameLoudness);
    if (this.#playing) this.#sound();
  }

  async #start() {
    try {
      this.#loop ??= this.#opened();
      this.#loop.volume(this.#gain);
      await this.#loop.resume();
    } catch {
      return this.#say("This browser gives no way to play sound here. Curves and figures work all the same.", true);
    }
    this.#show(true);
    if (this.#mix[this.#voice]) this.#sound();
    else await this.#render();
  }

  #opened() {
    const opened = loop();
    opened.onInterrupted(() => {
      this.#halt();
      this.#say("The sound was interrupted by the system. Press play to go on.");
    });
    return opened;
  }

  #halt() {
    this.#loop?.stop();
    if (this.#playing) this.#show(false);
  }

  #show(playing: boolean) {
    this.#playing = playing;
    const play = required(this, ".play", HTMLButtonElement);
    play.setAttribute("aria-pressed", String(playing));
    required(play, "span", HTMLElement).textContent = playing ? "Stop" : "Play";
  }

  #choose(voice: Voice) {
    this.#voice = voice;
    if (this.#playing) this.#sound();
  }

  #sound() {
    const heard = this.#mix[this.#voice];
    if (!heard) return;
    this.#loop?.play(heard.samples);
    this.#say(loudnessSentence(this.#mix, this.#voice, this.#sameLoudness));
  }

  #takeFiles() {
    const input = required(this, "input[type=file]", HTMLInputElement);
    const builtIn = required(this, ".built-in", HTMLButtonElement);
    input.addEventListener("change", () => void this.#open(input.files?.[0]));
    builtIn.addEventListener("click", () => {
      builtIn.hidden = true;
      input.value = "";
      this.#renderer?.use(undefined);
      this.#say("Back to the built-in phrase.");
      void this.#render();
    });
    this.addEventListener("dragover", (event) => {
      event.preventDefault();
      this.classList.add("dropping");
    });
    this.addEventListener("dragleave", () => this.classList.remove("dropping"));
    this.addEventListener("drop", (event) => {
      event.preventDefault();
      this.classList.remove("dropping");
      void this.#open(event.dataTransfer?.files[0]);
    });
  }

  async #open(file: File | undefined) {
    if (!file) return;
    this.#say("Reading the file …");
    const own = await ownSound(file);
    this.#say(own.message, !own.ok);
    if (!own.ok) return;
    this.#renderer ??= renderer();
    this.#renderer.use(own.sound);
    required(this, ".built-in", HTMLButtonElement).hidden = false;
    await this.#render();
    this.#say(own.message);
  }

  #say(sentence: string, wrong = false) {
    const said = required(this, ".said", HTMLElement);
    said.textContent = sentence;
    said.classList.toggle("wrong", wrong);
  }
}

customElements.define("bench-player", BenchPlayerElement);
