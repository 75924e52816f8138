import {computed} from "@preact/signals-core";
import {heldResponse, nowResponse} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";
import {cellText, responseCsv, thirdOctavesHz} from "./summary.ts";

/** Keeps the table of the curve true, and saves it as comma-separated values. */
class ResponseTableElement extends HTMLElement {
  #stop?: () => void;

  connectedCallback() {
    const curves = computed(() => [nowResponse.value, heldResponse.value] as const);
    const cells = Array.from(this.querySelectorAll("td"));
    this.#stop = onChange(curves, (both) => {
      const texts = thirdOctavesHz.flatMap((hz) => both.map((curve) => cellText(curve, hz)));
      cells.forEach((cell, k) => (cell.textContent = texts[k] ?? ""));
    });
    required(this, ".csv", HTMLButtonElement).addEventListener("click", () => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([responseCsv(...curves.value)], {type: "text/csv"}));
      link.download = "frequency-response.csv";
      link.click();
      URL.revokeObjectURL(link.href);
    });
  }

  disconnectedCallback() {
    this.#stop?.();
  }
}

customElements.define("response-table", ResponseTableElement);
