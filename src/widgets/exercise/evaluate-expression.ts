import {
  addDependencies,
  create,
  divideDependencies,
  evaluateDependencies,
  log10Dependencies,
  multiplyDependencies,
  piDependencies,
  powDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  type FactoryFunctionMap,
} from "mathjs";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {unitFacts, type Unit} from "../../engine/quantities/unit.ts";
import {doubtAbout, isMultiplied} from "./formula-doubts.ts";
import {formulaExample} from "./formula-example.ts";
import {formulaPieces, type Piece, type WrittenUnit} from "./formula-pieces.ts";
import {enlarged, unitOfResult} from "./formula-units.ts";

// Only what a formula of the course needs: the whole library would weigh twice as much.
const factories: FactoryFunctionMap = Object.assign(
  {},
  addDependencies,
  divideDependencies,
  evaluateDependencies,
  log10Dependencies,
  multiplyDependencies,
  piDependencies,
  powDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
);
const math = create(factories, {});

type Evaluated = Readonly<{ok: true; value: number; unitGiven: boolean}> | Readonly<{ok: false; message: string}>;

/**
 * Works out a typed formula, in `unit`. Units may stand at the numbers, as in "900 mV + 600 mV" and "1/(2*pi*3.3kΩ*47nF)", or one
 * behind the whole, as in "900 + 600 mV". A formula that cannot be read gets a sentence.
 */
export function evaluateExpression(text: string, unit: Unit): Evaluated {
  const read = formulaPieces(text.normalize("NFC"), unit);
  if (!read.ok) return wrong(whyUnread(read, text, unit));
  const {pieces} = read;
  const doubt = doubtAbout(pieces);
  if (doubt !== undefined) return wrong(doubt);
  const [plain, grown] = [workOut(pieces, () => 1), workOut(pieces, (each) => enlarged[each])];
  if (plain === undefined || grown === undefined) return wrong(unreadable(text, unit));
  const withUnits = pieces.some((piece) => unitOf(piece) !== undefined);
  if (!withUnits) return {ok: true, value: plain, unitGiven: unit === "" || (unit === "dB" && isLevel(pieces))};
  const result = unitOfResult(plain, grown, unit);
  if (result === unit) return {ok: true, value: plain, unitGiven: true};
  const whole = forTheWhole(pieces, unit);
  if (whole !== undefined) return {ok: true, value: whole, unitGiven: true};
  const {measures} = unitFacts[unit];
  if (result !== undefined && result !== "") {
    const worked = formatQuantity(plain, result, {figures: 4});
    return wrong(`That works out to ${worked}, and ${measures} is asked for: look at how the parts go together.`);
  }
  return wrong(
    `The units in it don’t make ${measures}. Write a unit at every number or one behind the whole, such as ${formulaExample(unit)}.`,
  );
}

/** Ten or twenty times a logarithm, as the course prints it, is in decibels by what a decibel is. */
const isLevel = (pieces: readonly Piece[]): boolean =>
  pieces.some((piece) => piece.kind === "opening" && piece.says === "log10(") &&
  pieces.some((piece) => piece.kind === "number" && (piece.value === 10 || piece.value === 20));

const wrong = (message: string): Evaluated => ({ok: false, message});

const unitOf = (piece: Piece | undefined): WrittenUnit | undefined =>
  piece?.kind === "number" || piece?.kind === "close" ? piece.unit : undefined;

/** The formula read with its last unit for the whole of it, where that is the unit asked for; undefined elsewhere. */
function forTheWhole(pieces: readonly Piece[], unit: Unit): number | undefined {
  const last = pieces.at(-1);
  const written = unitOf(last);
  if (!last || written?.unit !== unit) return undefined;
  const before = pieces.slice(0, -1);
  // In "900m + 600mV" every number has its prefix, and the V alone is for the whole.
  const ownPrefix =
    last.kind === "number" &&
    !written.apart &&
    /^[-+]$/.test(before.at(-1)?.written ?? "") &&
    before.some((each) => each.kind === "number" && each.prefixed);
  const bare: Piece =
    last.kind === "number"
      ? {
          kind: "number",
          value: last.value * (ownPrefix ? written.factor : 1),
          prefixed: last.prefixed,
          written: last.written,
        }
      : {kind: "close", written: ")"};
  const rest = [...before, bare];
  const [plain, grown] = [workOut(rest, () => 1), workOut(rest, (each) => enlarged[each])];
  if (plain === undefined || grown === undefined) return undefined;
  // Units inside that make the unit asked for settle the size: the prefix behind them only says how it will be written.
  const settled = rest.some((piece) => unitOf(piece) !== undefined) && unitOfResult(plain, grown, unit) === unit;
  return settled || ownPrefix ? plain : plain * written.factor;
}

/** The value of a formula with each unit as large as `size` says; undefined where it has none. */
function workOut(pieces: readonly Piece[], size: (unit: Unit) => number): number | undefined {
  const sized = (unit: WrittenUnit | undefined) => (unit ? `*${unit.factor * size(unit.unit)}` : "");
  const texts = pieces.map((piece, index) => {
    const times = isMultiplied(pieces[index - 1], piece) ? "*" : "";
    if (piece.kind === "number") return `${times}(${piece.value}${sized(piece.unit)})`;
    return piece.kind === "close" ? `)${sized(piece.unit)}` : `${times}${piece.says}`;
  });
  try {
    const value: unknown = math.evaluate(texts.join(" "));
    return typeof value === "number" && Number.isFinite(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

function whyUnread({at, because}: {at: string; because: "name" | "comma" | "sign"}, text: string, unit: Unit): string {
  if (because === "comma") {
    const [decimal, thousands] = [at.replace(",", "."), at.replace(",", "")];
    return `“${at}” can be read as ${decimal} or as ${thousands}. Write ${decimal} or ${thousands}.`;
  }
  if (because === "sign") return unreadable(text, unit);
  return `I don’t know “${at.slice(0, 24)}”: names of parts and other words are not read. Write the value in its place, such as 4.7k or 22n.`;
}

const unreadable = (text: string, unit: Unit): string =>
  `I can't work out “${text.slice(0, 40)}”. Write it with * for times and brackets in pairs, such as ${formulaExample(unit)}.`;
