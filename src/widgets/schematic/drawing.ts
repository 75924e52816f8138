/** A place on the drawing's grid, in steps of 24 px from the top left corner; quarter steps are allowed. */
export type GridPoint = readonly [x: number, y: number];

export type SymbolName =
  | "resistor"
  | "capacitor"
  | "polarised capacitor"
  | "inductor"
  | "potentiometer"
  | "variable resistor"
  | "diode"
  | "schottky diode"
  | "led"
  | "op-amp"
  | "signal source"
  | "battery"
  | "switch"
  | "wire";

/**
 * Where a part's name and value stand. `under` is below the ground symbol at the part's last terminal, `inside` within an
 * op-amp's triangle.
 */
export type LabelPlace = Readonly<{
  side: "above" | "below" | "left" | "right" | "under" | "inside";
  /** Moves the label, in px. */
  shift?: readonly [x: number, y: number];
  /** Name and value on one line. */
  inline?: boolean;
  /** Leaves the name out where a boundary or a caption says it. */
  nameless?: boolean;
  /** Leaves the values out where there is no room for them. */
  valueless?: boolean;
}>;

/**
 * One part of the course on the drawing. `at` holds its terminals in the order of the part's nodes: two for most parts,
 * top, wiper, bottom for a potentiometer, + − out for an op-amp.
 */
export type PlacedPart = Readonly<{
  ref: string;
  symbol: SymbolName;
  at: readonly GridPoint[];
  label: LabelPlace;
}>;

/** A place where the drawing meets what it does not show: ground, the reference, the supply, or the rest of the circuit. */
export type Mark = Readonly<{
  kind: "ground" | "reference" | "supply" | "end";
  node: string;
  at: GridPoint;
  /** What an end leads to, such as "from C1"; an end's text stands above the line, on the side named. */
  text?: string;
  side?: "left" | "right" | "middle";
}>;

/** A dashed frame round parts that sit in one housing. */
export type Boundary = Readonly<{title: string; from: GridPoint; to: GridPoint}>;

/** Words on the drawing that belong to no single part, centred at a place. */
export type Caption = Readonly<{text: string; at: GridPoint}>;

/** A voltage to be printed at a node, when the view knows it. */
export type Probe = Readonly<{node: string; at: GridPoint; side: "left" | "right" | "middle"}>;

/**
 * A circuit fragment as data: parts in the order in which the signal meets them, and the wires between. Where wires or
 * terminals share a point they are joined; a line that ends on another line is joined to it.
 */
export type Drawing = Readonly<{
  title: string;
  /** In steps of 24 px. */
  size: GridPoint;
  parts: readonly PlacedPart[];
  wires: readonly (readonly GridPoint[])[];
  marks: readonly Mark[];
  boundaries?: readonly Boundary[];
  captions?: readonly Caption[];
  /** Plug and socket: a small open circle on a line. */
  jacks?: readonly GridPoint[];
  probes?: readonly Probe[];
}>;

export const gridPx = 24;

export type DrawingSize = "wide" | "compact" | "guitar";

/** All of them. */
export const drawingSizes: readonly DrawingSize[] = ["wide", "compact", "guitar"];
