import type {GridPoint, Mark, PlacedPart, SymbolName} from "../drawing.ts";
import {type Fragment, ground, reference} from "./fragment.ts";

type Feedback = Readonly<{ref: string; symbol: SymbolName; from: "output" | "leg"}>;

export const controlled: Feedback = {ref: "RV1", symbol: "variable resistor", from: "output"};
export const topCut: Feedback = {ref: "C4", symbol: "capacitor", from: "output"};
export const diodes: readonly Feedback[] = [
  {ref: "D1", symbol: "diode", from: "output"},
  {ref: "D2", symbol: "diode", from: "leg"},
];

/** Columns and rows of a gain stage on the grid. */
export type StagePlan = Readonly<{
  /** Columns of the leg, of the node at the inverting input, of the op-amp's inputs, of its output node. */
  legX: number;
  minusX: number;
  inputX: number;
  outputX: number;
  /** Row of the non-inverting input, and rows of the feedback parts. */
  inputY: number;
  rows: readonly number[];
  /** Rows that C3 takes in the leg; 1.625 where there is room. */
  legCapacitorRows?: number;
}>;

export const widePlan: StagePlan = {
  legX: 4.25,
  minusX: 5.5,
  inputX: 7.25,
  outputX: 12,
  inputY: 2.5,
  rows: [5.25, 6.5, 7.875, 9.25],
};

/** The op-amp, its input coming from `from`, and a bare wire as its feedback. */
export function follower(
  {minusX, inputX, outputX, inputY}: StagePlan,
  from: GridPoint,
  label: PlacedPart["label"],
): Fragment {
  const row = inputY + 3;
  const outputY = inputY + 0.5;
  return {
    ...opAmp(inputX, inputY, label),
    wires: [
      [from, [inputX, inputY]],
      [
        [inputX + 3.25, outputY],
        [outputX, outputY],
      ],
      [
        [inputX, inputY + 1],
        [minusX, inputY + 1],
        [minusX, row],
        [outputX, row],
        [outputX, outputY],
      ],
    ],
  };
}

/** The op-amp with parts from its output to its inverting input, a row for each; `row` says how their labels differ. */
export function amplifying(
  {minusX, inputX, outputX, inputY, rows}: StagePlan,
  from: GridPoint,
  feedback: readonly Feedback[],
  label: PlacedPart["label"] = {side: "above"},
  row: Partial<PlacedPart["label"]> = {},
): Fragment {
  const outputY = inputY + 0.5;
  const used = rows.slice(0, feedback.length);
  const lowest = used.at(-1) ?? inputY;
  const alone = feedback.length === 1;
  const middle = alone ? outputX : minusX + 2;
  const placed = feedback.map((one, index): PlacedPart => {
    const y = used[index] ?? lowest;
    const ends: readonly GridPoint[] = [
      [middle, y],
      [minusX, y],
    ];
    return {
      ref: one.ref,
      symbol: one.symbol,
      at: one.from === "output" ? ends : ends.toReversed(),
      label: alone ? {side: "below", inline: true, ...row} : {side: "right", inline: true, shift: [0, -11], ...row},
    };
  });
  const onward = alone
    ? []
    : used.map((y): readonly GridPoint[] => [
        [middle, y],
        [outputX, y],
      ]);
  const {parts = []} = opAmp(inputX, inputY, label);
  return {
    parts: [...parts, ...placed],
    wires: [
      [from, [inputX, inputY]],
      [
        [inputX + 3.25, outputY],
        [outputX, outputY],
        [outputX, lowest],
      ],
      [
        [inputX, inputY + 1],
        [minusX, inputY + 1],
        [minusX, lowest],
      ],
      ...onward,
    ],
  };
}

function opAmp(x: number, y: number, label: PlacedPart["label"]): Fragment {
  return {
    parts: [
      {
        ref: "U1",
        symbol: "op-amp",
        at: [
          [x, y],
          [x, y + 1],
          [x + 3.25, y + 0.5],
        ],
        label,
      },
    ],
  };
}

/** R3 from the inverting input, and C3 below it where there is one; it ends in `end`. */
export function leg(
  {legX, minusX, inputY, legCapacitorRows = 1.625}: StagePlan,
  withC3: boolean,
  end: "ground" | "reference",
  shiftC3?: readonly [number, number],
): Fragment {
  const top = inputY + 1;
  const join = top + (withC3 ? 1.875 : 2);
  const foot = withC3 ? join + legCapacitorRows : join;
  const mark: Mark = end === "ground" ? ground(legX, foot) : reference(legX, foot);
  return {
    parts: [
      {
        ref: "R3",
        symbol: "resistor",
        at: [
          [legX, top],
          [legX, join],
        ],
        label: {side: "left"},
      },
      ...(withC3
        ? [
            {
              ref: "C3",
              symbol: "capacitor",
              at: [
                [legX, join],
                [legX, foot],
              ],
              label: {side: "left", ...(shiftC3 ? {shift: shiftC3} : {})},
            } as const,
          ]
        : []),
    ],
    wires: [
      [
        [minusX, top],
        [legX, top],
      ],
    ],
    marks: [mark],
  };
}

export const fromC1 = (x: number, y: number): Fragment => ({
  marks: [{kind: "end", node: "p", at: [x, y], text: "from C1", side: "left"}],
  jacks: [[x, y]],
});
