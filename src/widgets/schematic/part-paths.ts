import type {PlacedPart} from "./drawing.ts";
import {opAmpHalfPx, type PartLayout, wiperTravelPx} from "./part-layout.ts";

/** A stroke of a part: `body` is thickened when lit, `box-resistor` and `zigzag-resistor` show by the reader's choice. */
export type PartPath = Readonly<{d: string; role: string; transform?: string}>;

/** The strokes of a part's body. */
export function bodyPaths({symbol}: PlacedPart, {shape, centre, turn, body}: PartLayout): readonly PartPath[] {
  const at = `translate(${centre.x} ${centre.y})`;
  if (!shape) return opAmpPaths(body.right - body.left, turn, at);
  const turned = `${at}${turnOf(symbol, turn)}`;
  const paths: PartPath[] = [{d: shape.body, role: shape.zigzag ? "body box-resistor" : "body", transform: turned}];
  if (shape.zigzag) paths.push({d: shape.zigzag, role: "body zigzag-resistor", transform: turned});
  if (shape.detail) paths.push({d: shape.detail, role: "detail", transform: turned});
  if (shape.upright) paths.push({d: shape.upright, role: "detail", transform: at});
  return paths.map((path) => (symbol === "capacitor" && path.role === "body" ? {...path, role: "body plates"} : path));
}

/** A symbol that lies the other way round is mirrored, so that its arrows still point up. */
function turnOf(symbol: PlacedPart["symbol"], turn: number): string {
  if (turn === 0 || (turn === 180 && symbol === "variable resistor")) return "";
  return turn === 180 ? " scale(-1 1)" : ` rotate(${turn})`;
}

/** `plusAbove` is 1 where the non-inverting input is the upper one, −1 where it is the lower. */
function opAmpPaths(width: number, plusAbove: number, transform: string): readonly PartPath[] {
  const plus = -12 * plusAbove;
  return [
    {d: `M0-${opAmpHalfPx}V${opAmpHalfPx}L${width} 0Z`, role: "body", transform},
    {d: `M6 ${plus}h8M10 ${plus - 4}v8M6 ${-plus}h8`, role: "detail", transform},
  ];
}

/** The wiper: from its terminal along the track to where the rotation puts it, ending in an arrow. */
export function wiperPath({wiper}: PartLayout, position: number): string {
  if (!wiper) return "";
  const [terminal, tip] = wiper;
  const y = Math.round((tip.y + wiperTravelPx * (1 - 2 * position)) * 10) / 10;
  const back = Math.sign(terminal.x - tip.x) * 6;
  return `M${terminal.x} ${terminal.y}V${y}H${tip.x}M${tip.x + back} ${y - 4}L${tip.x} ${y}L${tip.x + back} ${y + 4}`;
}
