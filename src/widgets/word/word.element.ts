import {required} from "../required.ts";

/** A word that a press explains in place. Until then, and without a script, it is a link to the list of words. */
class ExplainedWordElement extends HTMLElement {
  #meaning: HTMLElement | undefined;

  connectedCallback() {
    const link = required(this, "a", HTMLAnchorElement);
    link.setAttribute("role", "button");
    link.setAttribute("aria-expanded", "false");
    link.addEventListener("click", (event) => {
      // A reader who wants the list in a tab of its own still gets it.
      if (event.metaKey || event.ctrlKey || event.shiftKey) return;
      event.preventDefault();
      this.#toggle(link);
    });
    link.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && link.getAttribute("aria-expanded") === "true") this.#toggle(link);
      if (event.key !== " ") return;
      event.preventDefault();
      this.#toggle(link);
    });
  }

  #toggle(link: HTMLAnchorElement) {
    const open = link.getAttribute("aria-expanded") === "true";
    link.setAttribute("aria-expanded", String(!open));
    if (open) return this.#meaning?.remove();
    this.#meaning ??= this.#explained();
    // Behind the paragraph, so that its sentence stays whole; within a list or a table, at the end of the entry.
    const paragraph = this.closest("p");
    if (paragraph) paragraph.after(this.#meaning);
    else (this.closest("li, dd, td") ?? this).append(this.#meaning);
  }

  #explained(): HTMLElement {
    const meaning = document.createElement("div");
    meaning.className = "word-meaning";
    meaning.setAttribute("role", "status");
    const word = document.createElement("strong");
    word.textContent = `${this.dataset["word"] ?? this.textContent}: `;
    meaning.append(word, this.dataset["meaning"] ?? "");
    return meaning;
  }
}

customElements.define("explained-word", ExplainedWordElement);
