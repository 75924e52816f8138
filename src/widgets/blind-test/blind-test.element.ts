import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {PhraseName} from "../../engine/sound/phrases.ts";
import {required} from "../required.ts";
import {followVolume, gainOf} from "../player/volume.ts";
import {download} from "../whole-sounds/download.ts";
import {beginsToSound, whenAnotherSounds} from "../whole-sounds/one-at-a-time.ts";
import type {WorkingOut} from "../whole-sounds/working-out.ts";
import type {Side, Trial, TrialCount} from "./blind-test.ts";
import type {TestSetting} from "./test-address.ts";
import type {Heard, TrialSounds} from "./trial-sounds.ts";

const works = () => import("./works.ts");
const addresses = () => import("./test-address.ts");

/** Sets a blind test up, holds it trial by trial, and tells at the end what it has shown. */
class BlindTestElement extends HTMLElement {
  #alone?: () => void;
  #linked: Readonly<{now: BenchSetting; held: BenchSetting}> | undefined;
  #working: WorkingOut | undefined;
  #test: TestSetting | undefined;
  #sounds: TrialSounds | undefined;
  #x: Side = "a";
  #heardX = false;
  #playing = false;
  #trials: readonly Trial[] = [];

  connectedCallback() {
    this.#on("form", "submit", (event) => {
      event.preventDefault();
      void this.#prepare();
    });
    this.#on("form", "change", () => void this.#describe());
    this.#on(".give-up", "click", () => this.#working?.cancel());
    this.#on(".play", "click", () => void (this.#playing ? this.#halt() : this.#play()));
    this.#on(".again", "click", () => {
      this.#sounds?.stop();
      void this.#play();
    });
    for (const choice of this.querySelectorAll("input[name=heard]")) {
      choice.addEventListener("change", () => void this.#play());
    }
    for (const button of this.querySelectorAll<HTMLButtonElement>("[data-answer]")) {
      button.addEventListener("click", () => void this.#answer(button.dataset["answer"] as Side));
    }
    followVolume(required(this, ".volume input", HTMLInputElement), () => this.#sounds?.volume(this.#gain));
    this.#on(".leave", "click", () =>
      this.#back("You left the test, so there is no score: half a test shows nothing."),
    );
    this.#on(".keep-result", "click", () => void this.#keep());
    this.#on(".afresh", "click", () => this.#back(""));
    addEventListener("hashchange", this.#read);
    this.#alone = whenAnotherSounds(this, () => this.#halt());
    void this.#read();
  }

  disconnectedCallback() {
    removeEventListener("hashchange", this.#read);
    this.#alone?.();
    this.#working?.cancel();
    this.#halt();
  }

  #on(selector: string, kind: string, act: (event: Event) => void) {
    required(this, selector, HTMLElement).addEventListener(kind, act);
  }

  get #gain() {
    return gainOf(required(this, ".volume input", HTMLInputElement));
  }

  get #heard() {
    return required(this, "input[name=heard]:checked", HTMLInputElement).value as Heard;
  }

  #field(name: string): HTMLSelectElement {
    return required(this, `select[name=${name}]`, HTMLSelectElement);
  }

  /** Takes up a test that the address brings along. */
  #read = async () => {
    const {readTestAddress, sameBench, testOfLesson} = await addresses();
    const read = readTestAddress(location.hash);
    if (!read) return;
    const {phrase, trials, notUnderstood, ...benches} = read;
    this.#linked = benches;
    // A lesson as it starts stands in the list under its name; only another bench needs a name of its own.
    const start = testOfLesson(benches.now.lesson);
    const listed = this.querySelector(`select[name=lesson] option[value="${benches.now.lesson}"]`);
    const asListed = listed && sameBench(start.now, benches.now) && sameBench(start.held, benches.held);
    const option = required(this, "option[value=linked]", HTMLOptionElement);
    option.hidden = option.disabled = Boolean(asListed);
    option.textContent = `The bench of this link: lesson ${benches.now.lesson}`;
    this.#field("lesson").value = asListed ? String(benches.now.lesson) : "linked";
    this.#field("phrase").value = phrase;
    required(this, `input[name=trials][value="${trials}"]`, HTMLInputElement).checked = true;
    const notice = required(this, ".notice", HTMLElement);
    notice.hidden = notUnderstood.length === 0;
    notice.textContent = notice.hidden
      ? ""
      : `Part of this link could not be read and was left out: ${notUnderstood.map((entry) => `“${entry.slice(0, 40)}”`).join(", ")}.`;
    await this.#describe();
  };

  async #setting(): Promise<TestSetting> {
    const {testOfLesson} = await addresses();
    const chosen = this.#field("lesson").value;
    const benches = chosen === "linked" && this.#linked ? this.#linked : testOfLesson(Number(chosen));
    const trials = Number(required(this, "input[name=trials]:checked", HTMLInputElement).value) as TrialCount;
    return {...benches, phrase: this.#field("phrase").value as PhraseName, trials};
  }

  /** Says what differs, and keeps the test in the address, so that a link brings it back. */
  async #describe() {
    const [setting, {testAddress}, {nothingChanged, whatChanged}, {atRest}] = await Promise.all([
      this.#setting(),
      addresses(),
      import("../what-changed/what-changed.ts"),
      import("../bench-state/at-rest.ts"),
    ]);
    const differs = required(this, ".differs", HTMLElement);
    const sentences = whatChanged(setting);
    differs.textContent = sentences;
    history.replaceState(history.state, "", `#${testAddress(setting)}`);
    if (nothingChanged(setting)) return;
    const clipping = await atRest("clippingChange", {now: setting.now, held: setting.held});
    // Undefined where another test was chosen meanwhile; empty where nothing can clip.
    if (clipping && differs.textContent === sentences) differs.textContent = `${sentences} ${clipping}`;
  }

  async #prepare() {
    this.#say("Working both sounds out, so that neither comes sooner than the other …");
    this.#show(".working");
    const progress = required(this, "progress", HTMLProgressElement);
    progress.value = 0;
    required(this, ".give-up", HTMLElement).focus();
    try {
      const [{workingOut, pairing, trialSounds}, setting] = await Promise.all([works(), this.#setting()]);
      const {phrase, now, held} = setting;
      this.#working = workingOut({phrase, settings: [held, now]}, (share) => (progress.value = share));
      const [a, b] = (await this.#working.sounds) ?? [];
      if (!a || !b) return this.#back("Given up.");
      const pair = await pairing(a, b);
      if (!pair.ok) return this.#back(pair.message);
      this.#test = setting;
      this.#trials = [];
      this.#heardX = false;
      this.#sounds = trialSounds(pair, () => {
        this.#playing = false;
        this.#press();
        this.#say("The sound was interrupted by the system. Press play to go on.");
      });
      this.#sounds.volume(this.#gain);
      await this.#next(`Ready. Both are equally loud. Start low, headphones off your ears for the first note.`);
    } catch (error) {
      this.#back(`The sounds could not be made: ${error instanceof Error ? error.message : String(error)}.`);
    } finally {
      this.#working = undefined;
    }
  }

  /** A trial begins: a fresh X, nothing playing, A chosen. */
  async #next(sentence: string) {
    const {drawnX} = await works();
    this.#x = drawnX();
    this.#sounds?.fresh(this.#x);
    required(this, "input[name=heard][value=a]", HTMLInputElement).checked = true;
    const name = `Trial ${this.#trials.length + 1} of ${this.#test?.trials ?? 0}`;
    required(this, "#trial-name", HTMLElement).textContent = name;
    this.#show(".trial");
    this.#say(`${sentence} ${name}.`);
    required(this, ".play", HTMLElement).focus();
  }

  async #play() {
    beginsToSound(this);
    this.#playing = true;
    this.#press();
    try {
      await this.#sounds?.play(this.#heard);
      if (this.#heard !== "x") return;
      this.#heardX = true;
      if (required(this, ".said", HTMLElement).textContent === pressX) this.#say("");
    } catch {
      this.#halt();
      this.#say("This browser gives no way to play sound here.");
    }
  }

  #halt() {
    this.#playing = false;
    this.#sounds?.stop();
    this.#press();
  }

  #press() {
    const play = required(this, ".play", HTMLButtonElement);
    play.setAttribute("aria-pressed", String(this.#playing));
    required(play, "span", HTMLElement).textContent = this.#playing ? "Stop" : "Play";
  }

  async #answer(answer: Side) {
    if (!this.#heardX) return this.#say(pressX);
    // One answer to each X, however fast the presses.
    this.#heardX = false;
    this.#halt();
    this.#trials = [...this.#trials, {x: this.#x, answer}];
    if (this.#trials.length < (this.#test?.trials ?? 0)) return this.#next("Noted. X is drawn afresh.");
    return this.#tell();
  }

  async #tell() {
    const {blindResult, resultHeading, resultSentences} = await works();
    const result = blindResult(this.#trials);
    const heading = required(this, "#result-name", HTMLElement);
    heading.textContent = resultHeading(result);
    required(this, ".meaning", HTMLElement).textContent = resultSentences(result);
    const differs = required(this, ".differs", HTMLElement).textContent;
    required(this, ".which", HTMLElement).textContent = `A was before, B was now. ${differs}`;
    required(this, "tbody", HTMLElement).replaceChildren(
      ...this.#trials.map(({x, answer}, k) => {
        const row = document.createElement("tr");
        const cells = [k + 1, x.toUpperCase(), `${answer.toUpperCase()}, ${x === answer ? "right" : "wrong"}`];
        row.append(...cells.map((text) => Object.assign(document.createElement("td"), {textContent: String(text)})));
        return row;
      }),
    );
    this.#sounds = undefined;
    this.#show(".result");
    this.#say("");
    heading.focus();
  }

  async #keep() {
    if (!this.#test) return;
    const [{resultFile}, {testAddress}] = await Promise.all([works(), addresses()]);
    const address = `${location.href.replace(/#.*/, "")}#${testAddress(this.#test)}`;
    const text = resultFile(this.#trials, {
      differs: required(this, ".differs", HTMLElement).textContent,
      phrase: this.#test.phrase,
      address,
      day: new Date().toISOString().slice(0, 10),
    });
    download(new Blob([text], {type: "text/plain"}), `part-by-part-blind-test-lesson-${this.#test.now.lesson}.txt`);
    this.#say("Saved.");
  }

  #back(sentence: string) {
    this.#halt();
    this.#sounds = undefined;
    this.#show(".setup");
    this.#say(sentence);
    required(this, ".begin", HTMLElement).focus();
  }

  #show(part: ".setup" | ".working" | ".trial" | ".result") {
    for (const each of [".setup", ".working", ".trial", ".result"]) {
      required(this, each, HTMLElement).hidden = each !== part;
    }
  }

  #say(sentence: string) {
    required(this, ".said", HTMLElement).textContent = sentence;
  }
}

const pressX = "Press X first, and listen: it is a fresh one in every trial.";

customElements.define("blind-test", BlindTestElement);
