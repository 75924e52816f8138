import {type Fragment, ground, type Pair, together} from "./fragment.ts";
import {amplifier} from "./guitar-and-amplifier.ts";

/** Tone control, output coupling and volume control, from U1's output to the amplifier: a row of the whole pedal. */
export const toneRow: Fragment = together(
  "",
  [20, 8.75],
  {
    parts: [
      {
        ref: "R5",
        symbol: "resistor",
        at: [
          [2.5, 3],
          [5, 3],
        ],
        label: {side: "above"},
      },
      {
        ref: "RV3",
        symbol: "variable resistor",
        at: [
          [5, 3],
          [7.75, 3],
        ],
        label: {side: "above"},
      },
      {
        ref: "C6",
        symbol: "capacitor",
        at: [
          [7.75, 3],
          [7.75, 6],
        ],
        label: {side: "right"},
      },
      {
        ref: "C5",
        symbol: "capacitor",
        at: [
          [7.75, 3],
          [10.5, 3],
        ],
        label: {side: "above"},
      },
      {
        ref: "RV2",
        symbol: "potentiometer",
        at: [
          [12, 3],
          [13, 3],
          [12, 6],
        ],
        label: {side: "under"},
      },
    ],
    wires: [
      [
        [0.5, 3],
        [2.5, 3],
      ],
      [
        [10.5, 3],
        [12, 3],
      ],
      [
        [13, 3],
        [15.5, 3],
      ],
    ],
    marks: [{kind: "end", node: "o", at: [0.5, 3], text: "from U1", side: "left"}, ground(7.75, 6), ground(12, 6)],
    jacks: [[0.5, 3]],
  },
  amplifier,
);

export const lesson14: Pair = {
  wide: together("A tone control from three parts", [20, 8.75], toneRow),
  compact: together("The tone control", [7.5, 6.25], {
    parts: [
      {
        ref: "R5",
        symbol: "resistor",
        at: [
          [0.5, 2.25],
          [2.75, 2.25],
        ],
        label: {side: "above"},
      },
      {
        ref: "RV3",
        symbol: "variable resistor",
        at: [
          [2.75, 2.25],
          [5.25, 2.25],
        ],
        label: {side: "above"},
      },
      {
        ref: "C6",
        symbol: "capacitor",
        at: [
          [5.25, 2.25],
          [5.25, 5],
        ],
        label: {side: "left"},
      },
    ],
    wires: [
      [
        [5.25, 2.25],
        [7, 2.25],
      ],
    ],
    marks: [
      {kind: "end", node: "o", at: [0.5, 2.25]},
      ground(5.25, 5),
      {kind: "end", node: "t", at: [7, 2.25], text: "to C5", side: "right"},
    ],
    jacks: [[0.5, 2.25]],
  }),
};
