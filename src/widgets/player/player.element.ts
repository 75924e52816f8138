import {computed} from "@preact/signals-core";
import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {held, isAtStart, keepAsBefore, nowSetting} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {soundFirst} from "../bench-state/sound-first.ts";
import {required} from "../required.ts";
import {followVolume, gainOf} from "./volume.ts";
import {droppedFiles} from "./dropped-files.ts";
import {heard, pictured} from "./heard.ts";
import {canPlayLive, fetchAhead, soundDevice, type SoundDevice} from "./live/sound-device.ts";
import type {Level, Mixed, Voice, VoiceNames} from "./mix.ts";
import {pictureFold, type PictureFold} from "./picture-fold.ts";
import type {PlayedBench} from "./played-bench.ts";
import {soundSource} from "./sound-source.ts";

const pause = 150; // milliseconds from a sign that the bench may be played to its being measured: a press at once comes first
const settle = 300; // milliseconds of quiet before a picture of the sound is worked out
const patience = 400; // milliseconds after which a reader is told what takes long
const likelyRateHz = 48_000; // of most devices; which one this has is known after a press
const works = () => import("./works.ts");
const roughly = () => import("./rough-loudness.ts");

/** Plays the bench. `renders()` gives what is played, for whoever wants to measure it. */
export class BenchPlayerElement extends HTMLElement {
  #stop?: () => void;
  #left = new AbortController();
  #bench: Promise<PlayedBench> | undefined;
  #levels: Partial<Record<Voice, Level>> = {};
  #names: VoiceNames = {};
  #startLoudness: Partial<Record<Voice, number>> = {};
  #voice: Voice = "now";
  #playing = false;
  /** What 'keep as before' kept, while that is what the status line says. */
  #kept: BenchSetting | undefined;
  /** Whether the status line speaks of loudness: then it follows the bench, played or not. */
  #tells = false;
  /** Whether what was said last is to be read: nothing has been asked for since. */
  #stands = false;
  #device: SoundDevice | undefined;
  #picture: PictureFold | undefined;
  #inAndOut: Promise<(file: File | undefined) => Promise<void>> | undefined;
  #drawTimer: ReturnType<typeof setTimeout> | undefined;

  connectedCallback() {
    this.#left = new AbortController();
    const play = required(this, ".play", HTMLButtonElement);
    play.addEventListener("click", () => void (this.#playing ? this.#halt() : this.#start()));
    this.#takeChoices();
    this.#takeSwitches();
    this.#takeFolds();
    this.#followBench();
  }

  /** Which voice is heard; what the page knows of each. */
  #takeChoices() {
    for (const input of this.querySelectorAll<HTMLInputElement>("input[data-lesson]"))
      input.addEventListener("change", () => this.#choose("stage", Number(input.dataset["lesson"])));
    for (const input of this.querySelectorAll<HTMLInputElement>(".voices input")) {
      const voice = input.value as Voice;
      const {name = voice, loudness} = input.dataset;
      this.#names = {...this.#names, [voice]: name};
      if (loudness !== undefined) this.#startLoudness = {...this.#startLoudness, [voice]: Number(loudness)};
      if (input.checked) this.#voice = voice;
      input.addEventListener("change", () => this.#choose(voice));
    }
  }

  #takeSwitches() {
    required(this, ".same", HTMLButtonElement).addEventListener("click", ({currentTarget}) => {
      const button = currentTarget as HTMLButtonElement;
      button.setAttribute("aria-checked", String(!this.#sameLoudness));
      this.#stands = false;
      void this.#with((bench) => bench.sameLoudness(this.#sameLoudness));
      this.#drawWhole();
    });
    required(this, ".loudspeaker", HTMLButtonElement).addEventListener("click", ({currentTarget}) => {
      const button = currentTarget as HTMLButtonElement;
      const on = button.getAttribute("aria-checked") !== "true";
      button.setAttribute("aria-checked", String(on));
      this.#stands = false;
      void this.#with((bench) => bench.loudspeaker(on));
      this.#drawWhole();
    });
    followVolume(required(this, ".volume input", HTMLInputElement), () => {
      if (this.#bench) void this.#with((bench) => bench.volume(this.#gain));
    });
    this.querySelector(".keep")?.addEventListener("click", () => {
      keepAsBefore();
      this.#kept = held.peek();
      this.#stands = true;
      this.#say("Kept: this is now what ‘before’ plays and what the dashed curve shows.");
      // At the top of a page the header pushes the bench down, and in a low window this line out of it.
      required(this, ".said", HTMLElement).scrollIntoView({block: "nearest"});
    });
  }

  #takeFolds() {
    const more = required(this, ".own", HTMLDetailsElement);
    more.addEventListener("toggle", () => {
      if (!more.open) return;
      more.scrollIntoView({block: "nearest"});
      void this.#more();
    });
    this.#picture = pictureFold(this, async () => (this.#playing ? (await this.#opened()).watched() : undefined));
    droppedFiles(this, (file) => {
      if (more.inert) this.#say("Your own sound can be played after your guess.");
      else void this.#more().then((open) => open(file));
    });
  }

  /** Takes up what the bench becomes, and has all at hand before anybody presses. */
  #followBench() {
    const follow = () => void this.#with((bench) => bench.follow());
    const {signal} = this.#left;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const ready = () => void this.#with(() => {});
    const measureSoon = () => {
      ready();
      clearTimeout(timer);
      timer = setTimeout(() => this.#playing || follow(), pause);
    };
    signal.addEventListener("abort", () => clearTimeout(timer));
    const benches = computed(() => [nowSetting.value, held.value] as const);
    this.#stop = onChange(benches, () => {
      if (this.#kept && this.#kept !== held.peek()) {
        this.#kept = undefined;
        if (!this.#playing) this.#say("");
      }
      if (nowSetting.peek() !== held.peek()) this.#stands = false;
      if (this.#playing) follow();
      else measureSoon();
      this.#drawWhole();
    });
    // Its loudness was not known while the site was built: a bench that comes by a link is measured before anybody asks.
    if (location.hash.length > 1 || !isAtStart.peek()) measureSoon();
    // Ready before the press: the first sign of a hand has what a press needs fetched and made, and one that comes near the bench
    // has it measured, where that has not been done while the site was built.
    const near = this.closest("#bench") ?? this;
    for (const sign of ["pointermove", "pointerdown", "keydown"])
      document.addEventListener(sign, ready, {once: true, capture: true, passive: true, signal});
    for (const sign of ["pointerover", "focusin"]) near.addEventListener(sign, measureSoon, {once: true, signal});
  }

  disconnectedCallback() {
    this.#stop?.();
    this.#left.abort();
    this.#halt();
  }

  /** What each voice plays: samples at 48 kHz under the ceiling, by how much it was turned down, and its loudness. */
  async renders(): Promise<Partial<Record<Voice, Mixed>>> {
    return (await this.#opened()).renders();
  }

  get #sameLoudness() {
    return required(this, ".same", HTMLButtonElement).getAttribute("aria-checked") === "true";
  }

  get #gain() {
    return gainOf(required(this, ".volume input", HTMLInputElement));
  }

  #opened(): Promise<PlayedBench> {
    return (this.#bench ??= this.#load().catch((error: unknown) => {
      // A line that was down for a moment: the next press tries again.
      this.#bench = undefined;
      throw error;
    }));
  }

  /** What takes longest is begun first: the sound is being made while the rest of the player is fetched. */
  async #load(): Promise<PlayedBench> {
    const source = soundSource(JSON.parse(this.dataset["peaks"] ?? "{}") as Record<number, number>);
    if (location.hash.length > 1 || !isAtStart.peek()) roughly().catch(() => {});
    if (canPlayLive()) {
      source.soundAt(likelyRateHz).catch(() => {});
      fetchAhead();
    }
    const {playedBench} = await works();
    const start = {loudness: this.#startLoudness, leftDb: Number(this.dataset["left"])};
    return playedBench(Object.keys(start.loudness) as Exclude<Voice, "stage">[], source, start, {
      onLevels: (levels) => {
        this.#levels = levels;
        // Levels that were on their way must not wipe out what was said of keeping or of a file.
        if ((this.#playing || this.#tells) && !this.#stands) void this.#tell();
      },
      onStopped: (sentence, broken) => {
        if (broken) this.#device = undefined;
        this.#show(false);
        this.#say(sentence, broken);
      },
      onSlow: (sentence) => this.#say(sentence),
    });
  }

  /** Whatever goes wrong with the sound is told in a sentence; the rest of the page does not need it. */
  async #with(act: (bench: PlayedBench) => unknown) {
    try {
      await act(await this.#opened());
    } catch (error) {
      this.#say(
        `The sound could not be made: ${error instanceof Error ? error.message : String(error)}. The rest of the page works on.`,
        true,
      );
    }
  }

  /** Whole sounds are worked out where there is a picture of them, once the controls have come to rest. */
  #drawWhole() {
    if (!pictured.value) return;
    clearTimeout(this.#drawTimer);
    this.#drawTimer = setTimeout(
      () => void this.#with(async (bench) => void (heard.value = await bench.renders())),
      settle,
    );
  }

  async #start() {
    this.#stands = false;
    this.#show(true);
    const slow = setTimeout(() => this.#say("Working out the sound of this circuit …"), patience);
    try {
      if (canPlayLive()) this.#device ??= soundDevice();
      const started = this.#opened().then((bench) => bench.start(this.#voice, this.#gain, this.#device));
      soundFirst(started);
      await started;
      // Only now: a worker that starts takes time from the first sound.
      await (await this.#opened()).follow();
      this.#picture?.plays();
      await this.#tell();
    } catch {
      this.#device = undefined;
      this.#show(false);
      this.#say("This browser gives no way to play sound here. Curves and figures work all the same.", true);
    } finally {
      clearTimeout(slow);
    }
  }

  #halt() {
    if (this.#bench) void this.#with((bench) => bench.stop());
    if (this.#playing) this.#show(false);
  }

  #show(playing: boolean) {
    this.#playing = playing;
    const play = required(this, ".play", HTMLButtonElement);
    play.setAttribute("aria-pressed", String(playing));
    required(play, "span", HTMLElement).textContent = playing ? "Stop" : "Play";
    if (!playing) void this.#picture?.show();
  }

  #choose(voice: Voice, lesson?: number) {
    this.#voice = voice;
    this.#stands = false;
    const {stage, ...names} = this.#names;
    this.#names = lesson === undefined ? names : {...names, stage: `Lesson ${lesson}`};
    void this.#with(async (bench) => {
      if (lesson !== undefined || stage !== undefined) await bench.stage(lesson);
      if (!this.#playing || this.#voice !== voice) return;
      if (lesson === undefined) bench.hear(voice);
      await this.#tell();
    });
  }

  /** What is done to the loudness of the voice that is heard; while comparing waits for a guess, only which one that is. */
  async #tell() {
    if (required(this, ".voices", HTMLElement).inert)
      return this.#say(
        `${this.#names[this.#voice] ?? this.#voice} plays. What to compare it with comes after your guess.`,
      );
    const {loudnessSentence} = await works();
    const missing = Object.keys(this.#names).some((voice) => !this.#levels[voice as Voice]);
    if (missing) return;
    this.#say(loudnessSentence(this.#levels, this.#voice, this.#sameLoudness, this.#names));
    this.#tells = true;
  }

  /** What lies folded away is fetched when it is needed. */
  #more() {
    return (this.#inAndOut ??= import("./in-and-out.ts").then(({inAndOut}) =>
      inAndOut({
        element: this,
        opened: () => this.#opened(),
        with: (act) => this.#with(act),
        play: async () => {
          if (!this.#playing) await this.#start();
        },
        changed: () => this.#drawWhole(),
        say: (sentence, {wrong, stands} = {}) => {
          if (stands) this.#stands = true;
          this.#say(sentence, wrong);
        },
      }),
    ));
  }

  #say(sentence: string, wrong = false) {
    this.#tells = false;
    const said = required(this, ".said", HTMLElement);
    said.textContent = sentence;
    said.classList.toggle("wrong", wrong);
  }
}

customElements.define("bench-player", BenchPlayerElement);
