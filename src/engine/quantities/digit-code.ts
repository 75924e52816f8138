import type {Marked, ReadMarking} from "./marking-code.ts";

/**
 * Reads a code of digits alone: figures, then how many noughts follow. "104" on a capacitor counts picofarads (100 nF), "472"
 * or "4701" on a resistor ohms. A last 9 on a capacitor divides by ten: "479" is 4.7 pF.
 *
 * Never throws: what is no code gets a sentence. Source: IEC 60062:2016.
 */
export function readDigitCode(text: string, kind: Marked): ReadMarking {
  const written = text.trim();
  const match = (kind === "resistance" ? /^(\d{2,3})(\d)$/ : /^(\d{2})(\d)$/).exec(written);
  if (!match) {
    const shown = written.length > 24 ? `${written.slice(0, 24)}…` : written;
    const example = kind === "resistance" ? "472 or 4701" : "104";
    return {ok: false, message: `“${shown}” is no code of digits for a ${kind}. Write one such as ${example}.`};
  }
  const [, figures = "", noughts = ""] = match;
  const power = kind === "capacitance" ? (noughts === "9" ? -13 : Number(noughts) - 12) : Number(noughts);
  return {ok: true, value: Number(`${figures}e${power}`)};
}
