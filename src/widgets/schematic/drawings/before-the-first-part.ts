import type {PlacedPart} from "../drawing.ts";
import {type Fragment, ground, type Pair, reference, together} from "./fragment.ts";
import {amplifier, guitar} from "./guitar-and-amplifier.ts";

const cable: Fragment = {
  parts: [
    {
      ref: "cable",
      symbol: "capacitor",
      at: [
        [11, 3],
        [11, 6],
      ],
      label: {side: "right"},
    },
  ],
  wires: [
    [
      [8.5, 3],
      [15.5, 3],
    ],
  ],
  marks: [ground(11, 6)],
};

export const lesson1: Pair = {
  wide: together("Guitar, cable and amplifier", [20, 8.75], guitar, cable, amplifier),
  compact: together("The cable between guitar and amplifier", [7.5, 6.25], {
    parts: [
      {
        ref: "cable",
        symbol: "capacitor",
        at: [
          [1, 1.5],
          [1, 4],
        ],
        label: {side: "right"},
      },
      {
        ref: "amplifier resistance",
        symbol: "resistor",
        at: [
          [4.25, 1.5],
          [4.25, 4],
        ],
        label: {side: "under", nameless: true},
      },
      {
        ref: "amplifier cable",
        symbol: "capacitor",
        at: [
          [6.5, 1.5],
          [6.5, 4],
        ],
        label: {side: "under", nameless: true},
      },
    ],
    wires: [
      [
        [0.5, 1.5],
        [6.5, 1.5],
      ],
    ],
    marks: [
      {kind: "end", node: "in", at: [0.5, 1.5], text: "from guitar", side: "left"},
      ground(1, 4),
      ground(4.25, 4),
      ground(6.5, 4),
    ],
    captions: [{text: "amplifier", at: [5.25, 1]}],
    jacks: [[0.5, 1.5]],
  }),
};

const couplingParts: readonly PlacedPart[] = [
  {
    ref: "cable",
    symbol: "capacitor",
    at: [
      [9.25, 3],
      [9.25, 6],
    ],
    label: {side: "right"},
  },
  {
    ref: "R1",
    symbol: "resistor",
    at: [
      [9.25, 3],
      [12, 3],
    ],
    label: {side: "above"},
  },
  {
    ref: "C1",
    symbol: "capacitor",
    at: [
      [12, 3],
      [14.75, 3],
    ],
    label: {side: "above"},
  },
  {
    ref: "R2",
    symbol: "resistor",
    at: [
      [14.75, 3],
      [14.75, 6],
    ],
    label: {side: "left"},
  },
];

const coupling: Fragment = {
  parts: couplingParts,
  wires: [
    [
      [8.5, 3],
      [9.25, 3],
    ],
  ],
  marks: [ground(9.25, 6)],
};

/** Guitar, cable and coupling, biased from the reference, its end at 17.5, 3: a row of the whole pedal. */
export const inputRow: Fragment = together("", [20, 8.75], guitar, coupling, {
  wires: [
    [
      [14.75, 3],
      [17.5, 3],
    ],
  ],
  marks: [reference(14.75, 6), {kind: "end", node: "p", at: [17.5, 3], text: "to U1", side: "right"}],
});

export const lesson2: Pair = {
  wide: together(
    "A resistor and a capacitor between guitar and amplifier",
    [20, 8.75],
    guitar,
    coupling,
    {
      wires: [
        [
          [14.75, 3],
          [15.5, 3],
        ],
      ],
      marks: [ground(14.75, 6)],
    },
    amplifier,
  ),
  compact: together("R1, C1 and R2", [7.5, 6.25], {
    parts: [
      {
        ref: "R1",
        symbol: "resistor",
        at: [
          [0.5, 2.25],
          [3, 2.25],
        ],
        label: {side: "above"},
      },
      {
        ref: "C1",
        symbol: "capacitor",
        at: [
          [3, 2.25],
          [5.5, 2.25],
        ],
        label: {side: "above"},
      },
      {
        ref: "R2",
        symbol: "resistor",
        at: [
          [5.5, 2.25],
          [5.5, 5],
        ],
        label: {side: "left"},
      },
    ],
    wires: [
      [
        [5.5, 2.25],
        [7, 2.25],
      ],
    ],
    marks: [
      {kind: "end", node: "in", at: [0.5, 2.25]},
      ground(5.5, 5),
      {kind: "end", node: "p", at: [7, 2.25], text: "out", side: "right"},
    ],
    jacks: [[0.5, 2.25]],
  }),
};
