import {computed} from "@preact/signals-core";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {held, keepAsBefore, nowSetting, wireSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";
import {heard} from "./heard.ts";
import type {Loop} from "./loop.ts";
import type {Mixed, Voice, VoiceNames} from "./mix.ts";
import type {Renderer} from "./renderer.ts";
import type {Rendering} from "./rendering.ts";

const settle = 150; // milliseconds after the last move of a control
const patience = 400; // milliseconds after which a reader is told what takes long
const works = () => import("./works.ts");

/** Plays the bench. `renders()` gives what is played, for whoever wants to measure it. */
export class BenchPlayerElement extends HTMLElement {
  #stop?: () => void;
  #renderer: Renderer | undefined;
  #loop: Loop | undefined;
  #renderings: Partial<Record<Voice, Rendering>> = {};
  #mix: Partial<Record<Voice, Mixed>> = {};
  #names: VoiceNames = {};
  #voice: Voice = "now";
  #playing = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #round = 0;
  #waited = false;

  connectedCallback() {
    const play = required(this, ".play", HTMLButtonElement);
    play.addEventListener("click", () => void (this.#playing ? this.#halt() : this.#start()));
    for (const input of this.querySelectorAll<HTMLInputElement>("input[name=voice]")) {
      const voice = input.value as Voice;
      this.#names = {...this.#names, [voice]: input.dataset["name"] ?? voice};
      if (input.checked) this.#voice = voice;
      input.addEventListener("change", () => this.#choose(voice));
    }
    required(this, ".same", HTMLButtonElement).addEventListener("click", ({currentTarget}) => {
      const button = currentTarget as HTMLButtonElement;
      button.setAttribute("aria-checked", String(!this.#sameLoudness));
      void this.#remix();
    });
    const volume = required(this, ".volume input", HTMLInputElement);
    volume.addEventListener("input", () => {
      volume.setAttribute(
        "aria-valuetext",
        volume.value === "0" ? "full" : `${-Number(volume.value)} decibels below full`,
      );
      this.#loop?.volume(this.#gain);
    });
    this.querySelector(".keep")?.addEventListener("click", () => {
      keepAsBefore();
      this.#say("Kept: this is now what ‘before’ plays and what the dashed curve shows.");
    });
    this.#takeFiles();
    const benches = computed(() => [nowSetting.value, held.value] as const);
    this.#stop = onChange(benches, () => {
      clearTimeout(this.#timer);
      // Also while the first is still under way: it was asked for before this move.
      if (this.#round > 0) this.#timer = setTimeout(() => void this.#follow(), settle);
    });
    // Ready before the press: a hand or a key that comes near the bench starts the rendering.
    const bench = this.closest("#bench") ?? this;
    for (const near of ["pointerover", "focusin"])
      bench.addEventListener(near, () => void this.#render(), {once: true});
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
    return decibels <= -48 ? 0 : 10 ** (decibels / 20);
  }

  /** After a move of a control; a reader who waits for it is told so. */
  async #follow() {
    const slow = setTimeout(() => {
      const moved =
        this.#voice === "wire" ? "The wire has nothing to turn: it plays on." : "Until then the old one plays on.";
      if (this.#playing && this.#mix[this.#voice]) this.#say(`The new sound is being worked out. ${moved}`);
    }, patience);
    await this.#render();
    clearTimeout(slow);
  }

  async #render() {
    const round = ++this.#round;
    const benches: Record<Voice, BenchSetting> = {now: nowSetting.peek(), before: held.peek(), wire: wireSetting};
    try {
      const use = await this.#rendering();
      const order = [this.#voice, ...this.#voices.filter((voice) => voice !== this.#voice)];
      const all = await Promise.all(
        order.map(async (voice) => {
          const rendering = await use.render(benches[voice]);
          if (round === this.#round) await this.#takeFirst(voice, rendering);
          return [voice, rendering] as const;
        }),
      );
      if (round !== this.#round) return;
      this.#renderings = Object.fromEntries(all);
      await this.#remix();
    } catch (error) {
      this.#say(
        `The sound could not be made: ${error instanceof Error ? error.message : String(error)}. The rest of the page works on.`,
        true,
      );
    }
  }

  /** At the same loudness a voice is played alone as it is beside the others: the first to be ready waits for none. */
  async #takeFirst(voice: Voice, rendering: Rendering) {
    if (!this.#sameLoudness || this.#renderings[voice]) return;
    this.#renderings = {...this.#renderings, [voice]: rendering};
    await this.#remix();
  }

  get #voices() {
    return Object.keys(this.#names) as Voice[];
  }

  async #rendering(): Promise<Renderer> {
    const {renderer} = await works();
    return (this.#renderer ??= renderer());
  }

  async #remix() {
    const {mixed} = await works();
    this.#mix = mixed(this.#renderings, this.#sameLoudness);
    heard.value = this.#mix;
    if (this.#playing) await this.#sound();
  }

  async #start() {
    try {
      const {loop} = await works();
      this.#loop ??= this.#opened(loop());
      this.#loop.volume(this.#gain);
      await this.#loop.resume();
    } catch {
      return this.#say("This browser gives no way to play sound here. Curves and figures work all the same.", true);
    }
    this.#show(true);
    if (this.#mix[this.#voice]) return this.#sound();
    this.#say(
      "Working out the sound of this circuit. That takes from a second to a quarter of a minute, the first time.",
    );
    await this.#render();
  }

  #opened(opened: Loop): Loop {
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
    this.#waited = false;
    if (this.#playing) void this.#sound();
  }

  async #sound() {
    const chosen = this.#mix[this.#voice];
    const missing = this.#voices.filter((voice) => !this.#mix[voice]).map((voice) => this.#names[voice]);
    if (!chosen) return this.#say(`${this.#names[this.#voice]} is being worked out; it plays as soon as it is ready.`);
    this.#loop?.play(chosen.samples);
    const {loudnessSentence} = await works();
    if (missing.length > 0) {
      this.#waited = true;
      return this.#say(
        `${this.#names[this.#voice]} plays. Still being worked out: ${missing.join(", ").toLowerCase()}.`,
      );
    }
    const ready = this.#waited ? "Ready: switch while it plays. " : "";
    this.#say(ready + loudnessSentence(this.#mix, this.#voice, this.#sameLoudness, this.#names));
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
    const {ownSound} = await works();
    const own = await ownSound(file);
    this.#say(own.message, !own.ok);
    if (!own.ok) return;
    (await this.#rendering()).use(own.sound);
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
