import {type Pair, reference, together} from "./fragment.ts";
import {amplifying, controlled, fromC1, leg, type StagePlan, topCut} from "./gain-stage.ts";

const plan: StagePlan = {legX: 3.25, minusX: 4.25, inputX: 5.5, outputX: 9.75, inputY: 2.5, rows: [5.25, 6.5]};

export const lesson13: Pair = {
  wide: together(
    "The diodes moved behind the stage",
    [20, 8.75],
    fromC1(0.5, 2.5),
    amplifying(plan, [0.5, 2.5], [controlled, topCut]),
    leg(plan, true, "ground"),
    {
      parts: [
        {
          ref: "R5",
          symbol: "resistor",
          at: [
            [9.75, 3],
            [12.5, 3],
          ],
          label: {side: "above"},
        },
        {
          ref: "D1",
          symbol: "diode",
          at: [
            [13.75, 3],
            [13.75, 5.5],
          ],
          label: {side: "left"},
        },
        {
          ref: "D2",
          symbol: "diode",
          at: [
            [15, 5.5],
            [15, 3],
          ],
          label: {side: "right"},
        },
        {
          ref: "C5",
          symbol: "capacitor",
          at: [
            [15, 3],
            [17.5, 3],
          ],
          label: {side: "above"},
        },
      ],
      wires: [
        [
          [12.5, 3],
          [15, 3],
        ],
        [
          [13.75, 5.5],
          [15, 5.5],
        ],
        [
          [17.5, 3],
          [19.5, 3],
        ],
      ],
      marks: [reference(13.75, 5.5), {kind: "end", node: "w", at: [19.5, 3], text: "to RV2", side: "right"}],
    },
  ),
  compact: together("The diodes behind the stage", [7.5, 6.25], {
    parts: [
      {
        ref: "R5",
        symbol: "resistor",
        at: [
          [0.5, 1.75],
          [3, 1.75],
        ],
        label: {side: "above"},
      },
      {
        ref: "D1",
        symbol: "diode",
        at: [
          [3.75, 1.75],
          [3.75, 4.5],
        ],
        label: {side: "left"},
      },
      {
        ref: "D2",
        symbol: "diode",
        at: [
          [5, 4.5],
          [5, 1.75],
        ],
        label: {side: "right", valueless: true},
      },
    ],
    wires: [
      [
        [3, 1.75],
        [5, 1.75],
      ],
      [
        [5, 1.75],
        [7, 1.75],
      ],
      [
        [3.75, 4.5],
        [5, 4.5],
      ],
    ],
    marks: [
      {kind: "end", node: "o", at: [0.5, 1.75]},
      reference(3.75, 4.5),
      {kind: "end", node: "h", at: [7, 1.75], text: "to C5", side: "right"},
    ],
    jacks: [[0.5, 1.75]],
  }),
};
