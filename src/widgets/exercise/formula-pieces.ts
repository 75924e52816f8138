import {parseQuantity} from "../../engine/quantities/parse-quantity.ts";
import {prefixes, unitFacts, type Unit} from "../../engine/quantities/unit.ts";

/** A unit with the factor of its prefix: "mV" is V and 0.001. `apart`: a prefix stood before it already, as in "600 m V". */
export type WrittenUnit = Readonly<{unit: Unit; factor: number; apart: boolean}>;

/** A piece of a typed formula. A number carries its own prefix and the unit behind it; a bracket the unit behind it. */
export type Piece = Readonly<{written: string}> &
  (
    | Readonly<{kind: "number"; value: number; prefixed: boolean; unit?: WrittenUnit}>
    | Readonly<{kind: "close"; unit?: WrittenUnit}>
    /** `says`: how mathjs writes it. */
    | Readonly<{kind: "sign" | "opening" | "pi"; says: string}>
  );

const numberAt = /(\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE]([-+]?\d{1,2})(?![\d.]))?/y;
const markingCodeAt = /(\d+)([RkKMmunpµμ])(\d+)(?![\d.,A-Za-z])/y;
const wordAt = /\s*([A-Za-zµμΩω°%]+)(?![\w.])/y;
const ownWord = /^(?:pi|sqrt|log|lg|x)$/i;
const raisedDigits = "⁰¹²³⁴⁵⁶⁷⁸⁹";

type Plain = Readonly<{pattern: RegExp; piece: (written: string) => Piece}>;
const plainPieces: readonly Plain[] = [
  {pattern: /(?:sqrt|√)\s*[([]/iy, piece: (written) => ({kind: "opening", says: "sqrt(", written})},
  // The course prints log for the logarithm to base 10.
  {pattern: /(?:log_?10|log₁₀|log|lg)\s*[([]/iy, piece: (written) => ({kind: "opening", says: "log10(", written})},
  {pattern: /[([]/y, piece: (written) => ({kind: "opening", says: "(", written})},
  {pattern: /π|pi(?![a-z])/iy, piece: (written) => ({kind: "pi", says: "pi", written})},
  {pattern: /[*×·]|x(?=[\s\d(])/y, piece: (written) => ({kind: "sign", says: "*", written})},
  {pattern: /[/÷:]/y, piece: (written) => ({kind: "sign", says: "/", written})},
  {pattern: /[-−–]/y, piece: (written) => ({kind: "sign", says: "-", written})},
  {pattern: /[+^]/y, piece: (written) => ({kind: "sign", says: written, written})},
  {
    pattern: /[⁰¹²³⁴-⁹⁻]+/y,
    piece: (written) => {
      const digits = [...written].map((each) => (each === "⁻" ? "-" : raisedDigits.indexOf(each)));
      return {kind: "sign", says: `^(${digits.join("")})`, written};
    },
  },
];

export type FormulaPieces =
  | Readonly<{ok: true; pieces: readonly Piece[]}>
  | Readonly<{ok: false; at: string; because: "name" | "comma" | "sign"}>;

/** Takes a formula apart, or says at which word, comma or sign that fails. `expected` decides whether m is a metre. */
export function formulaPieces(text: string, expected: Unit): FormulaPieces {
  const pieces: Piece[] = [];
  let at = 0;
  for (;;) {
    at += /^\s*/.exec(text.slice(at))?.[0].length ?? 0;
    if (at >= text.length) return {ok: true, pieces};
    const number = readNumber(text, at, expected);
    if (number === "comma") return {ok: false, at: found(numberAt, text, at)?.[0] ?? "", because: "comma"};
    const next = number ?? readClose(text, at, expected) ?? readPlain(text, at);
    if (!next) {
      const [word] = found(/\p{L}[\p{L}\w]*(\s*\()?/uy, text, at) ?? [];
      if (word === undefined || word.endsWith("(")) return {ok: false, at: text.slice(at), because: "sign"};
      return {ok: false, at: word, because: "name"};
    }
    pieces.push(next.piece);
    at = next.end;
  }
}

type Read = Readonly<{piece: Piece; end: number}>;

function readNumber(text: string, at: number, expected: Unit): Read | "comma" | undefined {
  const coded = found(markingCodeAt, text, at);
  const [all = "", first = "", second = "", third = ""] = coded ?? found(numberAt, text, at) ?? [];
  if (all === "") return undefined;
  if (/^[1-9]\d{0,2},\d{3}$/.test(first)) return "comma";
  const suffix = readSuffix(text, at + all.length, expected);
  const ohms = coded && second === "R" ? {unit: "Ω" as const, factor: 1, apart: true} : undefined;
  const power = coded ? exponentOf(second) : Number(second || 0);
  const digits = coded ? `${first}.${third}` : first.replace(",", ".");
  const unit = suffix.unit ?? ohms;
  return {
    piece: {
      kind: "number",
      value: Number(`${digits}e${power + suffix.power}`),
      prefixed: suffix.power !== 0 || coded !== undefined,
      written: text.slice(at, suffix.end).trim(),
      ...(unit && {unit}),
    },
    end: suffix.end,
  };
}

function readClose(text: string, at: number, expected: Unit): Read | undefined {
  if (!/[)\]]/.test(text.charAt(at))) return undefined;
  const {unit, power, end} = readSuffix(text, at + 1, expected);
  // A prefix alone says nothing behind a bracket.
  if (!unit || power !== 0) return {piece: {kind: "close", written: ")"}, end: at + 1};
  return {piece: {kind: "close", unit, written: text.slice(at, end)}, end};
}

function readPlain(text: string, at: number): Read | undefined {
  for (const {pattern, piece} of plainPieces) {
    const [written] = found(pattern, text, at) ?? [];
    if (written !== undefined) return {piece: piece(written), end: at + written.length};
  }
  return undefined;
}

/** What stands behind a number: a prefix, a unit, or a prefix and a unit with a space between. */
function readSuffix(
  text: string,
  at: number,
  expected: Unit,
): Readonly<{power: number; unit?: WrittenUnit; end: number}> {
  const [all = "", word = ""] = found(wordAt, text, at) ?? [];
  if (all === "" || ownWord.test(word)) return {power: 0, end: at};
  const unit = unitNamed(word, expected);
  if (unit) return {power: 0, unit: {...unit, apart: false}, end: at + all.length};
  const power = exponentOf(word);
  if (power === 0) return {power: 0, end: at};
  const rest = readSuffix(text, at + all.length, expected);
  return rest.unit ? {power, unit: {...rest.unit, apart: true}, end: rest.end} : {power, end: at + all.length};
}

const unitNames = (Object.keys(unitFacts) as Unit[]).filter((unit) => unit !== "" && unit !== "m");

/** The unit that a word names, with or without a prefix; what is expected goes first. */
function unitNamed(word: string, expected: Unit): Readonly<{unit: Unit; factor: number}> | undefined {
  for (const unit of expected === "" ? unitNames : [expected, ...unitNames]) {
    const read = parseQuantity(`1${word}`, unit);
    if (read.ok && read.unitGiven) return {unit, factor: read.value};
  }
  return undefined;
}

/** The power of ten of a prefix as people type it; 0 where it is none. */
function exponentOf(symbol: string): number {
  const plain = {u: "µ", μ: "µ", K: "k"}[symbol] ?? symbol;
  return prefixes.find((each) => each.symbol === plain)?.exponent ?? 0;
}

function found(pattern: RegExp, text: string, at: number): RegExpExecArray | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text) ?? undefined;
}
