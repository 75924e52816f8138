import type {PhraseName} from "../../engine/sound/phrases.ts";
import {required} from "../required.ts";
import {followVolume, gainOf} from "../player/volume.ts";
import {beginsToSound, whenAnotherSounds} from "../whole-sounds/one-at-a-time.ts";
import {clockText} from "./clock-text.ts";
import type {Place, StagePlayer} from "./stage-player.ts";
import type {stageWorks as StageWorksOf, StageWorks} from "./stage-works.ts";
import {takeAway} from "./take-away.ts";
import type {Stage} from "./whole-build.ts";

const works = () => import("./works.ts");
/** How often the stage that sounds is looked up while it plays, in milliseconds. */
const lookEvery = 100;
const start: Place = {stage: 0, seconds: 0};
const waits = "plays as soon as it is worked out.";

/** Plays the whole build stage by stage, each as soon as it is worked out, and gives it away as a file with a list of its stages. */
class WholeBuildElement extends HTMLElement {
  #alone?: () => void;
  #giveUpFile?: () => void;
  #stages: readonly Stage[] = [];
  #opening: Promise<StagePlayer> | undefined;
  #player: StagePlayer | undefined;
  #working: StageWorks | undefined;
  #timer: ReturnType<typeof setInterval> | undefined;
  /** Whether sound is wanted: it sounds, or does so as soon as its stage is there. */
  #wanted = false;
  #from = start;
  /** How often a place was asked for: what sounds moves `#from` along, so that it tells no press from another. */
  #presses = 0;

  connectedCallback() {
    this.#stages = JSON.parse(this.dataset["stages"] ?? "[]") as Stage[];
    this.#on(".play", "click", () => void (this.#wanted ? this.#halt() : this.#play(this.#from)));
    this.#on(".phrase", "change", () => this.#renew());
    this.#on(".transport .give-up", "click", () => this.#giveUp());
    for (const button of this.querySelectorAll<HTMLButtonElement>("[data-stage]")) {
      button.addEventListener("click", () => void this.#play({stage: Number(button.dataset["stage"]), seconds: 0}));
    }
    this.#giveUpFile = takeAway(this, {
      stages: this.#stages,
      phrase: () => ({name: this.#phrase, seconds: this.#phraseSeconds}),
    });
    this.#alone = whenAnotherSounds(this, () => this.#halt());
    followVolume(required(this, ".volume input", HTMLInputElement), () => this.#player?.volume(this.#gain));
  }

  disconnectedCallback() {
    this.#alone?.();
    this.#working?.cancel();
    this.#giveUpFile?.();
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

  get #gain() {
    return gainOf(required(this, ".volume input", HTMLInputElement));
  }

  /** Another phrase: other times, and sounds that are still to be worked out. */
  #renew() {
    this.#working?.cancel();
    this.#giveUpFile?.();
    this.#halt();
    this.#player?.forget();
    this.#from = start;
    const places = this.querySelectorAll(".stages li");
    for (const [k, place] of places.entries()) {
      for (const from of place.querySelectorAll(".from")) from.textContent = clockText(k * this.#phraseSeconds);
    }
    const whole = clockText(this.#stages.length * this.#phraseSeconds);
    required(this, ".stage-now", HTMLElement).textContent = `${this.#stages.length} stages, ${whole} minutes`;
    this.#mark(undefined);
  }

  /** Plays from a place, as soon as its stage is there; what sounds goes on until then. */
  async #play(from: Place) {
    const press = ++this.#presses;
    this.#from = from;
    this.#wanted = true;
    this.#press(true);
    try {
      const {stagePlayer, stageWorks} = await works();
      this.#opening ??= stagePlayer(this.#stages.length, {
        onEnd: () => {
          this.#from = start;
          this.#rest();
          this.#say("That was the whole build.");
        },
        onInterrupted: () => {
          this.#rest();
          this.#say("The sound was interrupted by the system. Press play to go on.");
        },
      });
      const player = (this.#player = await this.#opening);
      // Stopped meanwhile, or another stage was pressed, which plays itself.
      if (!this.#wanted || this.#presses !== press) return;
      void this.#workOut(player, from.stage, stageWorks);
      beginsToSound(this);
      player.volume(this.#gain);
      player.play(from);
      this.#say(player.awaited() === undefined ? "" : `${this.#named(from.stage)} ${waits}`);
      this.#timer ??= setInterval(() => this.#look(), lookEvery);
      this.#look();
    } catch (error) {
      this.#opening = undefined;
      this.#fail(error);
    }
  }

  /** Has the stages worked out that are not there yet, this one first, and then those behind it. */
  async #workOut(player: StagePlayer, stage: number, stageWorks: typeof StageWorksOf) {
    if (this.#working) return this.#working.next(stage);
    if (this.#stages.every((_, k) => player.has(k))) return;
    const working = required(this, ".transport .working", HTMLElement);
    const progress = required(working, "progress", HTMLProgressElement);
    const tell = (share: number) => {
      const there = this.#stages.filter((_, k) => player.has(k)).length;
      progress.value = (there + share) / this.#stages.length;
      required(working, ".so-far", HTMLElement).textContent =
        `${there} of ${this.#stages.length} stages are worked out`;
    };
    tell(0);
    working.hidden = false;
    const under = stageWorks(this.#phrase, this.#stages, stage, {
      there: player.has,
      onShare: tell,
      onStage: (k, samples) => {
        player.take(k, samples);
        this.#look();
      },
    });
    this.#working = under;
    try {
      if ((await under.done) && !this.#wanted) this.#say("All stages are worked out. Press play.");
    } catch (error) {
      this.#halt();
      this.#fail(error);
    } finally {
      this.#working = undefined;
      const focused = working.contains(document.activeElement);
      working.hidden = true;
      if (focused) required(this, ".play", HTMLElement).focus();
    }
  }

  #giveUp() {
    this.#working?.cancel();
    this.#halt();
    this.#say("Given up.");
  }

  #halt() {
    this.#from = this.#player?.place() ?? this.#from;
    this.#player?.stop();
    this.#rest();
  }

  #rest() {
    clearInterval(this.#timer);
    this.#timer = undefined;
    this.#wanted = false;
    this.#press(false);
  }

  /** Tells where it is: what sounds, and what is waited for. */
  #look() {
    const place = this.#player?.place();
    const awaited = this.#player?.awaited();
    if (place) {
      this.#mark(place.stage);
      if (awaited === undefined) {
        this.#from = place;
        if (this.#said.endsWith(waits)) this.#say("");
      }
    } else if (awaited !== undefined && this.#wanted) {
      this.#say(`${this.#named(awaited)} ${waits}`);
    }
  }

  #named(stage: number) {
    const {lesson = 0, name = ""} = this.#stages[stage] ?? {};
    return `${lesson}. ${name}`;
  }

  /** Names the stage that sounds: on the page once, and told once. */
  #mark(at: number | undefined) {
    const marked = this.querySelector(".stages [aria-current]");
    const button = at === undefined ? undefined : this.querySelector(`[data-stage="${at}"]`);
    if (marked === (button ?? null)) return;
    marked?.removeAttribute("aria-current");
    button?.setAttribute("aria-current", "true");
    const stage = at === undefined ? undefined : this.#stages[at];
    if (!stage || at === undefined) return;
    const name = document.createElement(stage.href ? "a" : "span");
    name.textContent = this.#named(at);
    if (stage.href) name.setAttribute("href", stage.href);
    const adds = Object.assign(document.createElement("span"), {textContent: ` (${stage.adds})`});
    required(this, ".stage-now", HTMLElement).replaceChildren(name, adds);
  }

  #press(playing: boolean) {
    const play = required(this, ".play", HTMLButtonElement);
    play.setAttribute("aria-pressed", String(playing));
    required(play, "span", HTMLElement).textContent = playing ? "Stop" : "Play all stages";
  }

  #fail(error: unknown) {
    this.#rest();
    this.#say(`The sound could not be made: ${error instanceof Error ? error.message : String(error)}.`);
  }

  get #said() {
    return required(this, ".transport .said", HTMLElement).textContent;
  }

  #say(sentence: string) {
    if (this.#said !== sentence) required(this, ".transport .said", HTMLElement).textContent = sentence;
  }
}

customElements.define("whole-build", WholeBuildElement);
