import type {Piece} from "./formula-pieces.ts";

/** A sentence on what in a formula some read one way and some another; undefined where nothing is. */
export function doubtAbout(pieces: readonly Piece[]): string | undefined {
  const line = besideALine(pieces);
  if (line !== undefined) {
    return `“${line}” can be read in two ways. Put what is below the line in brackets, as in 1/(2*pi*…).`;
  }
  const mixed = mixedNumber(pieces);
  if (mixed === undefined) return undefined;
  return `“${mixed}” can be read in two ways. Write it as a decimal number, or with a + or * in it.`;
}

/** What stands side by side is multiplied, as the course prints it. */
export const isMultiplied = (before: Piece | undefined, piece: Piece): boolean =>
  before !== undefined &&
  (before.kind === "number" || before.kind === "close" || before.kind === "pi") &&
  (piece.kind === "opening" || piece.kind === "pi" || piece.kind === "number");

const isDivision = (piece: Piece | undefined): boolean => piece?.kind === "sign" && piece.says === "/";

/** A stretch such as "1 1/2", a mixed number to some and a product to others. */
function mixedNumber(pieces: readonly Piece[]): string | undefined {
  const isWhole = (piece: Piece | undefined) => piece?.kind === "number" && Number.isInteger(piece.value);
  const isBare = (piece: Piece | undefined) => isWhole(piece) && /^\d+$/.test(piece?.written ?? "");
  const at = pieces.findIndex(
    (piece, index) =>
      isBare(piece) && isBare(pieces[index + 1]) && isDivision(pieces[index + 2]) && isWhole(pieces[index + 3]),
  );
  if (at < 0) return undefined;
  const [whole = "", above = "", , below = ""] = pieces.slice(at, at + 4).map(({written}) => written);
  return `${whole} ${above}/${below}`;
}

/** A stretch such as "/2π", which some read as below the line and some as beside it. */
function besideALine(pieces: readonly Piece[]): string | undefined {
  const at = pieces.findIndex(
    (piece, index) =>
      isMultiplied(pieces[index - 1], piece) && pieces[index - 1]?.kind !== "close" && isDivision(pieces[index - 2]),
  );
  if (at < 0) return undefined;
  const [line = "", below = "", beside = ""] = pieces.slice(at - 2, at + 1).map(({written}) => written);
  return `${line}${below}${/^\d/.test(beside) ? " " : ""}${beside}`;
}
