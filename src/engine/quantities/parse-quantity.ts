import {formatQuantity} from "./format-quantity.ts";
import {prefixes, unitFacts, type Unit} from "./unit.ts";

/** How a text was read, or a sentence that says what was wrong and what to write instead. */
export type ReadQuantity =
  Readonly<{ok: true; value: number; unitGiven: boolean; readAs: string}> | Readonly<{ok: false; message: string}>;

const exponentOf: Readonly<Record<string, number>> = {
  ...Object.fromEntries(prefixes.map(({symbol, exponent}) => [symbol, exponent])),
  u: -6,
  μ: -6,
  K: 3,
};
const spokenExponents = prefixes.filter(({spoken}) => spoken !== "");

/**
 * Reads a value as people write it: "4.7k", "4k7", "R47", "68n", "0,068 µF", "330 kohm", "1e-9".
 *
 * The letter of a prefix or unit may stand for the decimal point (IEC 60062). A comma is a decimal comma; a number such
 * as "3,145" could be either and is asked about.
 *
 * @param unit what is expected; another unit is an error that names it
 */
export function parseQuantity(text: string, unit: Unit): ReadQuantity {
  const written = text
    .normalize("NFC")
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .replace(/\u2212/g, "-")
    .trim();
  const {measures, example} = unitFacts[unit];
  if (written === "") return wrong(`Nothing is written yet. Write ${measures}, such as ${example}.`);
  const ambiguous = /^[-+]?[1-9]\d{0,2}(?:,\d{3})(?!\d|[.,])/.exec(written);
  if (ambiguous) {
    const [digits] = ambiguous;
    const decimal = digits.replace(",", ".");
    const thousands = digits.replace(",", "");
    return wrong(`“${digits}” can be read as ${decimal} or as ${thousands}. Write ${decimal} or ${thousands}.`);
  }
  const coded = markingCode(written, unit);
  if (coded) return coded;
  const number = /^([-+]?)(\d+(?:[.,]\d*)?|[.,]\d+)(?:\s*[eE]([-+]?\d{1,2}))?\s*(.*)$/.exec(written);
  if (!number) return wrong(`I can't read a number in “${shortened(written)}”. Write ${measures}, such as ${example}.`);
  const [, sign = "", digits = "", power = "0", rest = ""] = number;
  const suffix = readSuffix(rest.trim(), unit);
  if (typeof suffix === "string") return wrong(suffix);
  const value = Number(`${sign}${digits.replace(",", ".")}e${Number(power) + suffix.exponent}`);
  if (!Number.isFinite(value))
    return wrong(`“${shortened(written)}” is too large. Write ${measures}, such as ${example}.`);
  return right(value, unit, suffix.unitGiven);
}

/** "4k7", "R47", "3n3F": the letter stands where the decimal point would. */
function markingCode(written: string, unit: Unit): ReadQuantity | undefined {
  const letters = unit === "Ω" ? "RrkKMmGΩ" : "pnuµμmkKMRV";
  const match = new RegExp(`^(\\d*)([${letters}])(\\d+)\\s*(.*)$`).exec(written);
  if (!match) return undefined;
  const [, whole = "", letter = "", fraction = "", rest = ""] = match;
  const ownUnit = /[RrΩV]/.test(letter);
  if (ownUnit && !((/[RrΩ]/.test(letter) && unit === "Ω") || (letter === "V" && unit === "V"))) return undefined;
  if (!ownUnit && !unitFacts[unit].prefixed) return undefined;
  const given = rest.trim().toLowerCase();
  if (given !== "" && !unitFacts[unit].written.includes(given)) return undefined;
  const exponent = ownUnit ? 0 : (exponentOf[letter] ?? 0);
  return right(Number(`${whole || "0"}.${fraction}e${exponent}`), unit, ownUnit || given !== "" || isPartCode(unit));
}

/** Codes such as 4k7 and 3n9 are printed on resistors and capacitors (IEC 60062), and there they need no unit behind them. */
const isPartCode = (unit: Unit): boolean => unit === "Ω" || unit === "F";

function readSuffix(suffix: string, unit: Unit): {exponent: number; unitGiven: boolean} | string {
  if (suffix === "") return {exponent: 0, unitGiven: unit === ""};
  const {measures, example, prefixed, written} = unitFacts[unit];
  if (written.includes(suffix.toLowerCase())) return {exponent: 0, unitGiven: true};
  if (prefixed) {
    const spoken = spokenExponents.find((each) => suffix.toLowerCase().startsWith(each.spoken));
    if (spoken) {
      const rest = suffix.slice(spoken.spoken.length).toLowerCase();
      if (written.includes(rest) || written.includes(`o${rest}`)) return {exponent: spoken.exponent, unitGiven: true};
    }
    const exponent = exponentOf[suffix.charAt(0)];
    if (exponent !== undefined) {
      const rest = suffix.slice(1).trim().toLowerCase();
      if (rest === "") return {exponent, unitGiven: false};
      if (written.includes(rest)) return {exponent, unitGiven: true};
    }
    if (/^[rR]$/.test(suffix) && unit === "Ω") return {exponent: 0, unitGiven: true};
  }
  const other = unitIn(suffix);
  if (other !== undefined && other !== unit) {
    return `“${shortened(suffix)}” belongs to ${unitFacts[other].measures}. Write ${measures}, such as ${example}.`;
  }
  return `I don't know the unit “${shortened(suffix)}”. Write ${measures}, such as ${example}.`;
}

/** The unit that a suffix carries, with or without a prefix. */
function unitIn(suffix: string): Unit | undefined {
  const bare = suffix.toLowerCase();
  const units = Object.keys(unitFacts).filter((unit): unit is Unit => unit !== "");
  return (
    units.find((unit) => unitFacts[unit].written.includes(bare)) ??
    units.find(
      (unit) =>
        unitFacts[unit].prefixed &&
        exponentOf[suffix.charAt(0)] !== undefined &&
        unitFacts[unit].written.includes(bare.slice(1).trim()),
    )
  );
}

function right(value: number, unit: Unit, unitGiven: boolean): ReadQuantity {
  return {ok: true, value, unitGiven, readAs: formatQuantity(value, unit, {figures: 6})};
}

const wrong = (message: string): ReadQuantity => ({ok: false, message});
const shortened = (text: string) => (text.length > 24 ? `${text.slice(0, 24)}…` : text);
