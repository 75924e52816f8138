import type {Cue} from "../../engine/sound/cue-list.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import {required} from "../required.ts";
import {followVolume, gainOf} from "../player/volume.ts";
import {beginsToSound, whenAnotherSounds} from "../whole-sounds/one-at-a-time.ts";
import {download} from "../whole-sounds/download.ts";
import type {WorkingOut} from "../whole-sounds/working-out.ts";
import {clockText} from "./clock-text.ts";
import type {OneListen} from "./one-listen.ts";
import type {Stage} from "./whole-build.ts";

const works = () => import("./works.ts");
/** How often the stage that sounds is looked up while it plays, in milliseconds. */
const lookEvery = 100;

/** Plays the whole build stage by stage, and gives it away as a file with a list of its stages. */
class WholeBuildElement extends HTMLElement {
  #alone?: () => void;
  #stages: readonly Stage[] = [];
  #opening: Promise<OneListen> | undefined;
  #listen: OneListen | undefined;
  #working: WorkingOut | undefined;
  #timer: ReturnType<typeof setInterval> | undefined;
  #ready = false;
  #wanted = false;
  #from = 0;

  connectedCallback() {
    this.#stages = JSON.parse(this.dataset["stages"] ?? "[]") as Stage[];
    this.#on(".play", "click", () => void (this.#timer ? this.#halt() : this.#play(this.#from)));
    this.#on(".phrase", "change", () => this.#renew());
    this.#on(".give-up", "click", () => this.#working?.cancel());
    this.#on(".wav", "click", () => void this.#save());
    this.#on(".csv", "click", async () => {
      const {cueListCsv} = await works();
      download(new Blob([cueListCsv(await this.#cues())], {type: "text/csv"}), `${this.#name}.csv`);
    });
    this.#on(".vtt", "click", async () => {
      const {cueListWebVtt} = await works();
      download(new Blob([cueListWebVtt(await this.#cues())], {type: "text/vtt"}), `${this.#name}.vtt`);
    });
    for (const button of this.querySelectorAll<HTMLButtonElement>("[data-stage]")) {
      button.addEventListener("click", () => void this.#play(Number(button.dataset["stage"]) * this.#phraseSeconds));
    }
    this.#alone = whenAnotherSounds(this, () => {
      this.#wanted = false;
      this.#halt();
    });
    followVolume(required(this, ".volume input", HTMLInputElement), () => this.#listen?.volume(this.#gain));
  }

  disconnectedCallback() {
    this.#alone?.();
    this.#working?.cancel();
    this.#halt();
  }

  #on(selector: string, kind: string, act: () => void) {
    required(this, selector, HTMLElement).addEventListener(kind, act);
  }

  get #phrase(): PhraseName {
    return required(this, ".phrase select", HTMLSelectElement).value as PhraseName;
  }

  get #phraseSeconds() {
    return Number(required(this, ".phrase option:checked", HTMLOptionElement).dataset["seconds"]);
  }

  get #name() {
    return `part-by-part-whole-build-${this.#phrase.replaceAll(" ", "-")}`;
  }

  get #gain() {
    return gainOf(required(this, ".volume input", HTMLInputElement));
  }

  async #cues(): Promise<readonly Cue[]> {
    return (await works()).stageCues(this.#stages, this.#phraseSeconds);
  }

  /** Another phrase: other times, and a sound that is still to be worked out. */
  #renew() {
    this.#working?.cancel();
    this.#halt();
    this.#ready = false;
    this.#from = 0;
    const places = this.querySelectorAll(".stages li");
    for (const [k, place] of places.entries()) {
      for (const from of place.querySelectorAll(".from")) from.textContent = clockText(k * this.#phraseSeconds);
    }
    const whole = clockText(this.#stages.length * this.#phraseSeconds);
    required(this, ".stage-now", HTMLElement).textContent = `${this.#stages.length} stages, ${whole} minutes`;
    this.#mark(undefined);
  }

  /**
   * All stages heard; undefined where that is given up, or cannot be. `pressed` is what asked for it: how far it is and the way to
   * give it up stand there, and the focus goes back to it.
   */
  async #worked(pressed: ".play" | ".wav", sentence: string) {
    const say = (words: string) => (pressed === ".wav" ? this.#sayOfFile(words) : this.#say(words));
    if (this.#working) {
      say("One thing at a time: let the other be done, or give it up.");
      return undefined;
    }
    const {workingOut, startSetting} = await works();
    const progress = required(this, "progress", HTMLProgressElement);
    progress.value = 0;
    const settings = this.#stages.map(({lesson}) => startSetting(lesson));
    this.#working = workingOut(
      {phrase: this.#phrase, settings, forFile: pressed === ".wav"},
      (share) => (progress.value = share),
    );
    const working = required(this, ".working", HTMLElement);
    required(this, pressed, HTMLElement).closest("div, p")?.after(working);
    working.hidden = false;
    working.scrollIntoView({block: "nearest"});
    say(sentence);
    try {
      const sounds = await this.#working.sounds;
      if (!sounds) say("Given up.");
      return sounds;
    } finally {
      this.#working = undefined;
      const focused = required(this, ".give-up", HTMLElement) === document.activeElement;
      working.hidden = true;
      if (focused) required(this, pressed, HTMLElement).focus();
    }
  }

  /** Plays from a place, having worked everything out the first time. */
  async #play(from: number) {
    this.#from = from;
    this.#wanted = true;
    try {
      const {oneListen, composedSamples} = await works();
      this.#opening ??= oneListen({
        onEnd: () => {
          this.#from = 0;
          this.#rest();
          this.#say("That was the whole build.");
        },
        onInterrupted: () => {
          this.#rest();
          this.#say("The sound was interrupted by the system. Press play to go on.");
        },
      });
      this.#listen = await this.#opening;
      if (!this.#ready) {
        const stages = await this.#worked(".play", "Working all stages out …");
        if (!stages) return;
        await this.#listen.take(await composedSamples(stages));
        this.#ready = true;
        this.#say(this.#wanted ? "" : "All stages are worked out. Press play.");
      }
      // Something else began to sound meanwhile: that is listened to now.
      if (!this.#wanted) return;
      beginsToSound(this);
      this.#listen.volume(this.#gain);
      this.#listen.play(this.#from);
      this.#timer ??= setInterval(() => void this.#look(), lookEvery);
      this.#press(true);
      await this.#look();
    } catch (error) {
      this.#say(`The sound could not be made: ${error instanceof Error ? error.message : String(error)}.`);
    }
  }

  #halt() {
    this.#from = this.#listen?.seconds() ?? this.#from;
    this.#listen?.stop();
    this.#rest();
  }

  #rest() {
    clearInterval(this.#timer);
    this.#timer = undefined;
    this.#press(false);
  }

  async #look() {
    const seconds = this.#listen?.seconds();
    if (seconds === undefined) return;
    const {cueAt} = await works();
    this.#from = seconds;
    this.#mark(cueAt(await this.#cues(), seconds));
  }

  /** Names the stage that sounds: on the page once, and told once. */
  #mark(at: number | undefined) {
    const marked = this.querySelector(".stages [aria-current]");
    const button = at === undefined ? undefined : this.querySelector(`[data-stage="${at}"]`);
    if (marked === (button ?? null)) return;
    marked?.removeAttribute("aria-current");
    button?.setAttribute("aria-current", "true");
    const stage = at === undefined ? undefined : this.#stages[at];
    if (!stage) return;
    const name = document.createElement(stage.href ? "a" : "span");
    name.textContent = `${stage.lesson}. ${stage.name}`;
    if (stage.href) name.setAttribute("href", stage.href);
    required(this, ".stage-now", HTMLElement).replaceChildren(name, ` (${stage.adds})`);
  }

  async #save() {
    try {
      const {composedFile} = await works();
      const stages = await this.#worked(".wav", "Working all stages out, closer to the circuit than they are played …");
      if (!stages) return;
      download(await composedFile(stages), `${this.#name}.wav`);
      this.#sayOfFile("Saved.");
    } catch (error) {
      this.#sayOfFile(`The file could not be made: ${error instanceof Error ? error.message : String(error)}.`);
    }
  }

  #press(playing: boolean) {
    const play = required(this, ".play", HTMLButtonElement);
    play.setAttribute("aria-pressed", String(playing));
    required(play, "span", HTMLElement).textContent = playing ? "Stop" : "Play all stages";
  }

  #say(sentence: string) {
    required(this, ".said", HTMLElement).textContent = sentence;
  }

  /** Told beside what was pressed: the player's own line may lie a screen above. */
  #sayOfFile(sentence: string) {
    required(this, ".said-of-file", HTMLElement).textContent = sentence;
  }
}

customElements.define("whole-build", WholeBuildElement);
