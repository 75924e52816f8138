import {toleranceOf, type Tolerance} from "./tolerance-letter.ts";

/** What a code on a part says: ohms or farads, and the tolerance where a letter gives it; or a sentence. */
export type ReadMarking =
  Readonly<{ok: true; value: number; tolerance?: Tolerance}> | Readonly<{ok: false; message: string}>;

export type Marked = "resistance" | "capacitance";

type Letter = Readonly<{letter: string; exponent: number; also?: string}>;
const letters: Readonly<Record<Marked, readonly Letter[]>> = {
  resistance: [
    {letter: "L", exponent: -3},
    {letter: "R", exponent: 0, also: "r"},
    {letter: "K", exponent: 3, also: "k"},
    {letter: "M", exponent: 6},
    {letter: "G", exponent: 9},
    {letter: "T", exponent: 12},
  ],
  capacitance: [
    {letter: "p", exponent: -12},
    {letter: "n", exponent: -9},
    // Keyboards write u; the micro sign and the Greek letter look alike.
    {letter: "µ", exponent: -6, also: "uμ"},
    {letter: "m", exponent: -3},
  ],
};
const examples: Readonly<Record<Marked, string>> = {resistance: "4K7 or R33", capacitance: "4n7 or 68n"};

/**
 * Reads a letter-and-digit code: "4K7", "R33", "2M2J" in ohms, "p10", "4n7K" in farads. The first letter stands where the
 * decimal point would; a last one gives the tolerance. Capitals matter: M is mega, m milli.
 *
 * Never throws: what is no code gets a sentence. Source: IEC 60062:2016.
 */
export function readMarkingCode(text: string, kind: Marked): ReadMarking {
  const written = text.trim();
  const match = /^(\d{0,4})([A-Za-zµμ])(\d{0,4})([A-Z]?)$/.exec(written);
  const [, whole = "", letter = "", fraction = "", last = ""] = match ?? [];
  const scale = letters[kind].find((each) => letter !== "" && (each.letter === letter || each.also?.includes(letter)));
  if (scale === undefined || (whole === "" && fraction === "")) {
    const shown = written.length > 24 ? `${written.slice(0, 24)}…` : written;
    return {ok: false, message: `“${shown}” is no code for a ${kind}. Write one such as ${examples[kind]}.`};
  }
  const value = Number(`${whole || "0"}.${fraction || "0"}e${scale.exponent}`);
  if (last === "") return {ok: true, value};
  const tolerance = toleranceOf(last, kind === "capacitance" && value < 10e-12);
  if (tolerance === undefined) {
    return {ok: false, message: `“${last}” is no letter for a tolerance. Write one such as J for 5 % or K for 10 %.`};
  }
  return {ok: true, value, tolerance};
}

/**
 * A value as a letter-and-digit code, two figures at least and four at most: "4K7", "1K0", "470R", "R47", "68n".
 *
 * @throws {RangeError} if the value is not positive, or the letters don't reach it
 *
 * Source: IEC 60062:2016. Of the several spellings it allows, whole numbers come before fractions: 470p, not n47.
 */
export function markingCode(value: number, kind: Marked): string {
  const unit = kind === "resistance" ? "Ω" : "F";
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`a ${kind} must be positive, got ${value} ${unit}`);
  const rounded = Number(value.toPrecision(4));
  // Tenths of an ohm are written R47; milliohms only from there down.
  const fits = ({exponent}: Letter) =>
    rounded >= Number(`${kind === "resistance" && exponent === 0 ? 0.1 : 1}e${exponent}`);
  const scale = letters[kind].findLast(fits) ?? letters[kind][0];
  const number = Number((rounded / 10 ** (scale?.exponent ?? 0)).toPrecision(4));
  const figures = number.toFixed(Math.max(0, 3 - Math.floor(Math.log10(number) + 1e-12)));
  const [whole = "0", decimals = ""] = figures.split(".");
  const least = whole === "0" ? 2 : whole.length === 1 ? 1 : 0;
  const fraction = decimals.replace(/0+$/, "").padEnd(least, "0");
  if (scale === undefined || whole.length > 3 || fraction.length > 4) {
    throw new RangeError(`a ${kind} of ${value} ${unit} is beyond the letters of the code`);
  }
  return `${whole === "0" ? "" : whole}${scale.letter}${fraction}`;
}
