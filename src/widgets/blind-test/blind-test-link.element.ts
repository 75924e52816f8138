import {required} from "../required.ts";

/** A link to a blind test that takes the bench along, as it stands in the address of the lesson. */
class BlindTestLinkElement extends HTMLElement {
  connectedCallback() {
    const link = required(this, "a", HTMLAnchorElement);
    const start = link.hash;
    const take = () => {
      // A hash without "=" is a place on the page and no bench.
      link.hash = location.hash.includes("=") ? `${start}&${location.hash.slice(1)}` : start;
    };
    for (const kind of ["pointerdown", "focus", "click"]) link.addEventListener(kind, take);
  }
}

customElements.define("blind-test-link", BlindTestLinkElement);
