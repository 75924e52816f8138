import {placeOfAddress} from "../bench-state/address-place.ts";

/** What of a lesson waits folded for its guess: the passages behind it (fold-rest.js). */
const waiting = () => Array.from(document.querySelectorAll<HTMLElement>("#guess-first ~ section[hidden]"));

/** Unfolds what waits for the guess, all at once. */
export function unfoldRest(): void {
  for (const section of waiting()) section.hidden = false;
  delete document.querySelector<HTMLElement>("main.lesson")?.dataset["rest"];
}

/** Unfolds it as well when a search finds a word in it or an address leads there. */
export function unfoldWhenSought(): void {
  document.addEventListener("beforematch", unfoldRest);
  addEventListener("hashchange", () => {
    const place = placeOfAddress(location.hash.slice(1));
    if (!place || !waiting().some((section) => section.contains(place))) return;
    unfoldRest();
    place.scrollIntoView();
  });
}
