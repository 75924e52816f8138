import {type Fragment, ground} from "./fragment.ts";

/** The guitar: source, pickup and volume control in one housing, its output at 8.5, 3. */
export const guitar: Fragment = {
  parts: [
    {
      ref: "guitar",
      symbol: "signal source",
      at: [
        [1.5, 3],
        [1.5, 6],
      ],
      label: {side: "under", nameless: true},
    },
    {
      ref: "pickup resistance",
      symbol: "resistor",
      at: [
        [1.5, 3],
        [3.5, 3],
      ],
      label: {side: "above", nameless: true},
    },
    {
      ref: "pickup inductance",
      symbol: "inductor",
      at: [
        [3.5, 3],
        [5.5, 3],
      ],
      label: {side: "above", nameless: true},
    },
    {
      ref: "pickup capacitance",
      symbol: "capacitor",
      at: [
        [5.5, 3],
        [5.5, 6],
      ],
      label: {side: "left", nameless: true},
    },
    {
      ref: "guitar volume",
      symbol: "potentiometer",
      at: [
        [6.75, 3],
        [7.75, 3],
        [6.75, 6],
      ],
      label: {side: "under"},
    },
  ],
  wires: [
    [
      [5.5, 3],
      [6.75, 3],
    ],
    [
      [7.75, 3],
      [8.5, 3],
    ],
  ],
  marks: [ground(1.5, 6), ground(5.5, 6), ground(6.75, 6)],
  boundaries: [{title: "guitar", from: [0.25, 0.25], to: [8.5, 8.5]}],
  captions: [{text: "pickup", at: [3.5, 1.75]}],
  jacks: [[8.5, 3]],
};

/** The amplifier's input in its housing, entered at 15.5, 3. */
export const amplifier: Fragment = {
  parts: [
    {
      ref: "amplifier resistance",
      symbol: "resistor",
      at: [
        [16.625, 3],
        [16.625, 6],
      ],
      label: {side: "under", nameless: true},
    },
    {
      ref: "amplifier cable",
      symbol: "capacitor",
      at: [
        [18.625, 3],
        [18.625, 6],
      ],
      label: {side: "under", nameless: true},
    },
  ],
  wires: [
    [
      [15.5, 3],
      [18.625, 3],
    ],
  ],
  marks: [ground(16.625, 6), ground(18.625, 6)],
  boundaries: [{title: "amplifier", from: [15.5, 0.25], to: [19.75, 8.5]}],
  jacks: [[15.5, 3]],
};
