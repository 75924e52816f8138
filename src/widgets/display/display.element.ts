import {foldAway} from "../fold-away/fold-away.ts";

const storageKey = (name: string) => `part-by-part.${name}`;

/** Puts the reader's choice on `<html>` (`data-theme`, `data-resistor`) and keeps it in this browser. */
class ReadingDisplayElement extends HTMLElement {
  connectedCallback() {
    const form = this.querySelector("form");
    const details = this.querySelector("details");
    if (!form || !details) throw new Error("<reading-display> needs its details and form");
    for (const name of ["theme", "resistor"]) {
      const chosen = document.documentElement.dataset[name] ?? "";
      for (const input of form.querySelectorAll<HTMLInputElement>(`input[name="${name}"]`)) {
        input.checked = input.value === chosen;
      }
    }
    form.addEventListener("change", ({target}) => {
      if (target instanceof HTMLInputElement) choose(target.name, target.value);
    });
    foldAway(details);
  }
}

function choose(name: string, value: string) {
  if (value) document.documentElement.setAttribute(`data-${name}`, value);
  else document.documentElement.removeAttribute(`data-${name}`);
  try {
    if (value) localStorage.setItem(storageKey(name), value);
    else localStorage.removeItem(storageKey(name));
  } catch {
    // Storage is refused: the choice holds until the page is left.
  }
}

customElements.define("reading-display", ReadingDisplayElement);
