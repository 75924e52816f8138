import type {Drawing, DrawingSize, SymbolName} from "./drawing.ts";

/** What the drawing says of one part. */
export type PartView = Readonly<{
  ref: string;
  /** As written beside the symbol: "C1", "cable", or nothing. */
  shown: string;
  /** In words, such as "coupling capacitor". */
  name: string;
  /** The lines under the name, such as "33 nF". */
  values: readonly string[];
  /** The values as a voice says them, such as "33 nanofarads". */
  spoken: string;
  /** The circuit's nodes it joins, in the order of the part's kind. */
  nodes: readonly string[];
  /** Whether an earlier lesson brought it: then it is drawn quiet. */
  earlier: boolean;
  /** Symbol to draw instead of the one the drawing names, where a choice has changed the kind of part. */
  symbol?: SymbolName;
  /** Taken out by a switch: drawn dashed. */
  lifted?: boolean;
  /** Rotation of a potentiometer from 0 to 1. */
  position?: number;
}>;

/** Everything that `schematicFragment` needs, worked out beforehand. */
export type SchematicView = Readonly<{
  lesson: number;
  size: DrawingSize;
  drawing: Drawing;
  parts: ReadonlyMap<string, PartView>;
  partInHand: string | undefined;
  /** Parts that are lit with it. */
  alsoInHand: readonly string[];
  /** Voltages to print at probed nodes, such as "4.2 V". */
  volts?: ReadonlyMap<string, string>;
}>;

/** A part's whole spoken name: "C1, coupling capacitor, 33 nanofarads". */
export const spokenPart = ({shown, name, spoken}: PartView): string =>
  [name.toLowerCase().includes(shown.toLowerCase()) ? "" : shown, name, spoken]
    .filter((piece) => piece !== "")
    .join(", ");
