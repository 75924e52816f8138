import {benchView} from "../bench-state/bench-state.ts";
import {onChange} from "../bench-state/on-change.ts";
import {required} from "../required.ts";

/** Keeps the table of the curve true, and saves it as comma-separated values. */
class ResponseTableElement extends HTMLElement {
  #stop?: () => void;
  #rest: ReturnType<typeof setTimeout> | undefined;

  connectedCallback() {
    const cells = Array.from(this.querySelectorAll("td"));
    const fill = async () => {
      const {cellText, curves, nominalHz, thirdOctavesHz} = await table();
      const texts = thirdOctavesHz.flatMap((hz) => curves.map((curve) => cellText(curve, nominalHz(hz))));
      cells.forEach((cell, k) => (cell.textContent = texts[k] ?? ""));
    };
    // Sixty cells that nobody reads in mid-drag may wait for its end.
    this.#stop = onChange(benchView, () => {
      clearTimeout(this.#rest);
      this.#rest = setTimeout(() => void fill(), 200);
    });
    required(this, ".csv", HTMLButtonElement).addEventListener("click", () => void this.#save());
  }

  disconnectedCallback() {
    this.#stop?.();
    clearTimeout(this.#rest);
  }

  async #save() {
    const {curves, responseCsv} = await table();
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([responseCsv(...curves)], {type: "text/csv"}));
    link.download = "frequency-response.csv";
    link.click();
    URL.revokeObjectURL(link.href);
  }
}

/** The curves as they stand, and how a table writes them. */
async function table() {
  const [{heldResponse, nowResponse}, summary] = await Promise.all([
    import("../bench-state/figures.ts"),
    import("./summary.ts"),
  ]);
  return {...summary, curves: [nowResponse.value, heldResponse.value] as const};
}

customElements.define("response-table", ResponseTableElement);
