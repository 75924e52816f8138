import type {SymbolName} from "./drawing.ts";

/**
 * A two-terminal symbol lying along the x axis, centred at 0,0; first terminal on the left. `reach` is how far its body
 * goes along the axis from the centre, `breadth` how far across; leads fill the rest. All in px.
 */
export type SymbolShape = Readonly<{
  reach: number;
  breadth: number;
  /** SVG path data of the body. */
  body: string;
  /** The body for readers who chose the zigzag resistor. */
  zigzag?: string;
  /** Path data in the same line weight but never thickened: arrows, signs. */
  detail?: string;
  /** Detail that stays upright however the symbol is turned. */
  upright?: string;
  /** Extra room on one side: [left, top, right, bottom] in the symbol's own frame. */
  room?: readonly [number, number, number, number];
}>;

const box = "M-15-6H15V6H-15Z";
const zigzag = "M-15 0L-12.5-7L-7.5 7L-2.5-7L2.5 7L7.5-7L12.5 7L15 0";
const triangle = "M-8-8.5V8.5L8 0Z";

/**
 * Symbols after IEC 60617; the zigzag resistor after IEEE 315-1975. Proportions are our own, on a grid of 24 px.
 * An op-amp and a potentiometer's wiper are drawn by `drawnPart`, for they have a third terminal.
 */
export const symbols: Readonly<Record<Exclude<SymbolName, "op-amp">, SymbolShape>> = {
  resistor: {reach: 15, breadth: 7, body: box, zigzag},
  potentiometer: {reach: 15, breadth: 7, body: box, zigzag},
  "variable resistor": {
    reach: 15,
    breadth: 7,
    body: box,
    zigzag,
    detail: "M-13 12L13-12M5.5-11.5L13-12L11.5-4.6",
    room: [-14, -13, 14, 13],
  },
  capacitor: {reach: 3.5, breadth: 11, body: "M-3.5-11V11M3.5-11V11"},
  "polarised capacitor": {
    reach: 3.5,
    breadth: 11,
    body: "M-3.5-11V11M3.5-11V11",
    detail: "M-13-8H-7M-10-11V-5",
    room: [-13, -11, 4, 11],
  },
  inductor: {
    reach: 20,
    breadth: 7,
    body: "M-20 0A5 5.5 0 0 1-10 0A5 5.5 0 0 1 0 0A5 5.5 0 0 1 10 0A5 5.5 0 0 1 20 0",
  },
  diode: {reach: 8, breadth: 9, body: `${triangle}M8-8.5V8.5`, detail: "M-8 0H8"},
  "schottky diode": {reach: 8, breadth: 9, body: `${triangle}M4.5-5.5V-8.5H8V8.5H11.5V5.5`, detail: "M-8 0H8"},
  led: {
    reach: 8,
    breadth: 9,
    body: `${triangle}M8-8.5V8.5`,
    detail: "M-8 0H8M1-10L7-17M3-15.5L7-17L6.2-12.8M8-9L14-16M10-14.5L14-16L13.2-11.8",
    room: [-9, -18, 15, 9],
  },
  "signal source": {
    reach: 12,
    breadth: 12,
    body: "M-12 0A12 12 0 1 1 12 0A12 12 0 1 1-12 0",
    upright: "M-6.5 0C-4.5-7-2-7 0 0S4.5 7 6.5 0",
  },
  battery: {
    reach: 7.5,
    breadth: 11,
    body: "M-7.5-11V11M-2.5-6V6M2.5-11V11M7.5-6V6",
    detail: "M-15-8H-9M-12-11V-5",
    room: [-15, -11, 8, 11],
  },
  wire: {reach: 10, breadth: 2, body: "M-10 0H10"},
  switch: {
    reach: 10,
    breadth: 8,
    body: "M-10 0L9-8",
    detail: "M-10-2A2 2 0 1 0-10 2A2 2 0 1 0-10-2M10-2A2 2 0 1 0 10 2A2 2 0 1 0 10-2",
  },
};
