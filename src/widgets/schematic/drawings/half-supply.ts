import {type Fragment, ground, type Pair, together} from "./fragment.ts";

/** Battery, protection, divider and reservoir; the reference goes on from 10.5, 4.5. */
export const supply: Fragment = {
  parts: [
    {
      ref: "battery",
      symbol: "battery",
      at: [
        [1.5, 2],
        [1.5, 7],
      ],
      label: {side: "right"},
    },
    {
      ref: "D3",
      symbol: "diode",
      at: [
        [1.5, 2],
        [6.5, 2],
      ],
      label: {side: "above"},
    },
    {
      ref: "R8",
      symbol: "resistor",
      at: [
        [6.5, 2],
        [6.5, 4.5],
      ],
      label: {side: "right"},
    },
    {
      ref: "R9",
      symbol: "resistor",
      at: [
        [6.5, 4.5],
        [6.5, 7],
      ],
      label: {side: "right"},
    },
    {
      ref: "C8",
      symbol: "polarised capacitor",
      at: [
        [10.5, 4.5],
        [10.5, 7],
      ],
      label: {side: "right"},
    },
  ],
  wires: [
    [
      [6.5, 4.5],
      [10.5, 4.5],
    ],
  ],
  marks: [ground(1.5, 7), ground(6.5, 7), ground(10.5, 7)],
  probes: [
    {node: "vcc", at: [6.75, 1.75], side: "left"},
    {node: "ref", at: [10.75, 4.25], side: "left"},
  ],
};

export const lesson3: Pair = {
  wide: together("Half the supply from a divider", [20, 8], supply, {
    parts: [
      {
        ref: "C1",
        symbol: "capacitor",
        at: [
          [12, 2],
          [15.5, 2],
        ],
        label: {side: "above"},
      },
      {
        ref: "R2",
        symbol: "resistor",
        at: [
          [15.5, 2],
          [15.5, 4.5],
        ],
        label: {side: "right"},
      },
    ],
    wires: [
      [
        [10.5, 4.5],
        [15.5, 4.5],
      ],
      [
        [10.75, 2],
        [12, 2],
      ],
      [
        [15.5, 2],
        [19.25, 2],
      ],
    ],
    marks: [
      {kind: "end", node: "a", at: [10.75, 2], text: "from R1", side: "left"},
      {kind: "end", node: "p", at: [19.25, 2], text: "to amplifier", side: "right"},
    ],
    jacks: [[10.75, 2]],
    captions: [{text: "half supply", at: [14, 5.25]}],
    probes: [{node: "p", at: [15, 3.125], side: "right"}],
  }),
  compact: together("The divider that halves the supply", [7.5, 6.25], {
    parts: [
      {
        ref: "R8",
        symbol: "resistor",
        at: [
          [3, 1.25],
          [3, 3.25],
        ],
        label: {side: "left"},
      },
      {
        ref: "R9",
        symbol: "resistor",
        at: [
          [3, 3.25],
          [3, 5.25],
        ],
        label: {side: "left"},
      },
      {
        ref: "C8",
        symbol: "polarised capacitor",
        at: [
          [4.75, 3.25],
          [4.75, 5.25],
        ],
        label: {side: "right"},
      },
    ],
    wires: [
      [
        [3, 3.25],
        [4.75, 3.25],
      ],
      [
        [4.75, 3.25],
        [7, 3.25],
      ],
    ],
    marks: [
      {kind: "supply", node: "vcc", at: [3, 1.25], text: "from D3"},
      {kind: "end", node: "ref", at: [7, 3.25], text: "half supply", side: "right"},
      ground(3, 5.25),
      ground(4.75, 5.25),
    ],
  }),
};
