import {lesson} from "../bench-state/bench-state.ts";
import {required} from "../required.ts";
import type {SaveRequest} from "./save-messages.ts";
import type {Saving} from "./save-sound.ts";

export type Saved = "now" | "before" | "wire" | "dry";

/** What the player answers when asked what is to be saved. */
export type SaveAsked = CustomEvent<{what: Saved; request?: Promise<SaveRequest>}>;

/** Saves what is played as a file, with the share that is done and a way to give up. */
class SaveSoundElement extends HTMLElement {
  #saving: Saving | undefined;

  connectedCallback() {
    this.hidden = false;
    required(this, ".save", HTMLButtonElement).addEventListener("click", () => {
      if (this.#saving) this.#saving.cancel();
      else void this.#save();
    });
  }

  disconnectedCallback() {
    this.#saving?.cancel();
  }

  async #save() {
    const what = required(this, "select", HTMLSelectElement).value as Saved;
    const asked: SaveAsked = new CustomEvent("saveasked", {bubbles: true, detail: {what}});
    this.dispatchEvent(asked);
    const progress = required(this, "progress", HTMLProgressElement);
    try {
      const [request, {saving}] = await Promise.all([asked.detail.request, import("./save-sound.ts")]);
      if (!request) throw new Error("there is no player here");
      progress.value = 0;
      this.#saving = saving(request, (share) => (progress.value = share));
      this.#show("Working it out, closer to the circuit than it is played …");
      const file = await this.#saving.file;
      this.#saving = undefined;
      this.#show(file ? "Saved." : "Given up; nothing was saved.");
      if (file) download(file, `part-by-part-lesson-${lesson.value}-${what}.wav`);
    } catch (error) {
      this.#saving = undefined;
      this.#show(`The file could not be made: ${error instanceof Error ? error.message : String(error)}.`);
    }
  }

  #show(sentence: string) {
    required(this, "progress", HTMLProgressElement).hidden = !this.#saving;
    required(this, ".save", HTMLButtonElement).textContent = this.#saving ? "Give up" : "Save";
    required(this, ".told", HTMLElement).textContent = sentence;
  }
}

function download(file: Blob, name: string) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

customElements.define("save-sound", SaveSoundElement);
