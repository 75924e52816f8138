import {type Fragment, type Pair, reference, together} from "./fragment.ts";
import {amplifying, controlled, diodes, follower, fromC1, leg, type StagePlan, topCut, widePlan} from "./gain-stage.ts";
import {amplifier} from "./guitar-and-amplifier.ts";

const benchCoupling: Fragment = {
  parts: [
    {
      ref: "bench coupling",
      symbol: "capacitor",
      at: [
        [12, 3],
        [14.75, 3],
      ],
      label: {side: "above"},
    },
  ],
  wires: [
    [
      [14.75, 3],
      [15.5, 3],
    ],
  ],
};

const volume: Fragment = {
  parts: [
    {
      ref: "C5",
      symbol: "capacitor",
      at: [
        [12, 3],
        [14, 3],
      ],
      label: {side: "above"},
    },
    {
      ref: "RV2",
      symbol: "potentiometer",
      at: [
        [14, 3],
        [15, 3],
        [14, 6],
      ],
      label: {side: "under"},
    },
  ],
  wires: [
    [
      [15, 3],
      [15.5, 3],
    ],
  ],
  marks: [{kind: "ground", node: "0", at: [14, 6]}],
};

const input = fromC1(0.75, 2.5);
const from = [0.75, 2.5] as const;
const wideSize = [20, 8.75] as const;

const compactPlan: StagePlan = {
  ...{legX: 2.5, minusX: 3.25, inputX: 3.75, outputX: 7.25},
  ...{inputY: 1.25, rows: [4], legCapacitorRows: 1.375},
};
const compactInput = fromC1(0.5, 1.25);
const compactFrom = [0.5, 1.25] as const;
const compactSize = [7.5, 6.25] as const;
/** Brings the labels of the leg nearer to it, for six characters to fit. */
const compactShift = [3, 0] as const;
const inside = {side: "inside", valueless: true} as const;

export const lesson4: Pair = {
  wide: together(
    "The op-amp as a follower",
    wideSize,
    input,
    {
      parts: [
        {
          ref: "R2",
          symbol: "resistor",
          at: [
            [3.25, 2.5],
            [3.25, 5.5],
          ],
          label: {side: "left"},
        },
      ],
      marks: [reference(3.25, 5.5)],
    },
    follower(widePlan, from, {side: "above"}),
    benchCoupling,
    amplifier,
  ),
  compact: together(
    "The op-amp as a follower",
    compactSize,
    fromC1(0.5, 2.25),
    follower({...compactPlan, minusX: 2.25, inputX: 3, outputX: 6.5, inputY: 2.25}, [0.5, 2.25], {side: "above"}),
    {
      wires: [
        [
          [6.5, 2.75],
          [7.25, 2.75],
        ],
      ],
      marks: [{kind: "end", node: "o", at: [7.25, 2.75], text: "out", side: "right"}],
    },
  ),
};

const compactOut: Fragment = {marks: [{kind: "end", node: "o", at: [7.25, 1.75]}]};

/** The leg of lesson 5 goes to the reference, or to ground to see what happens. */
export const lesson5 = (end: "reference" | "ground"): Pair => ({
  wide: together(
    "Gain from two resistors",
    wideSize,
    input,
    amplifying(widePlan, from, [controlled]),
    leg(widePlan, false, end),
    benchCoupling,
    amplifier,
  ),
  compact: together(
    "Gain from two resistors",
    compactSize,
    compactInput,
    amplifying(compactPlan, compactFrom, [controlled], inside, {inline: false}),
    leg(compactPlan, false, end),
    compactOut,
  ),
});

const legCompact = together(
  "The op-amp, its gain control and its leg",
  compactSize,
  compactInput,
  amplifying(compactPlan, compactFrom, [controlled], inside, {inline: false}),
  leg(compactPlan, true, "ground", compactShift),
  compactOut,
);

export const lesson6: Pair = {
  wide: together(
    "The leg capacitor",
    wideSize,
    input,
    amplifying(widePlan, from, [controlled]),
    leg(widePlan, true, "ground"),
    benchCoupling,
    amplifier,
  ),
  compact: legCompact,
};

const stageWithVolume = (title: string, size: readonly [number, number], feedback: Parameters<typeof amplifying>[2]) =>
  together(title, size, input, amplifying(widePlan, from, feedback), leg(widePlan, true, "ground"), volume, amplifier);

export const lesson7: Pair = {
  wide: stageWithVolume("Output coupling and volume control", wideSize, [controlled]),
  compact: together("Output coupling and volume control", [7.5, 6.25], {
    parts: [
      {
        ref: "C5",
        symbol: "capacitor",
        at: [
          [0.5, 2],
          [3.25, 2],
        ],
        label: {side: "above"},
      },
      {
        ref: "RV2",
        symbol: "potentiometer",
        at: [
          [3.75, 2],
          [4.75, 2],
          [3.75, 5],
        ],
        label: {side: "left"},
      },
    ],
    wires: [
      [
        [3.25, 2],
        [3.75, 2],
      ],
      [
        [4.75, 2],
        [7, 2],
      ],
    ],
    marks: [
      {kind: "end", node: "o", at: [0.5, 2]},
      {kind: "ground", node: "0", at: [3.75, 5]},
      {kind: "end", node: "out", at: [7, 2], text: "to amplifier", side: "right"},
    ],
    jacks: [[0.5, 2]],
  }),
};

export const lesson8: Pair = {wide: stageWithVolume("Gain wide open", wideSize, [controlled]), compact: legCompact};

/** Where the leg would join, in drawings that leave it out. */
const legEnd: Fragment = {
  wires: [
    [
      [1.25, 2.25],
      [0.5, 2.25],
    ],
  ],
  marks: [{kind: "end", node: "m", at: [0.5, 2.25]}],
  jacks: [[0.5, 2.25]],
  captions: [{text: "leg", at: [0.625, 3]}],
};

const rowsPlan: StagePlan = {...compactPlan, minusX: 1.25, inputX: 2, outputX: 7.25, rows: [4, 5.25]};

const rowsCompact = (title: string, feedback: Parameters<typeof amplifying>[2]) =>
  together(title, compactSize, compactInput, amplifying(rowsPlan, compactFrom, feedback, inside), legEnd, {
    marks: [{kind: "end", node: "o", at: [7.25, 1.75]}],
  });

export const lesson9: Pair = {
  wide: stageWithVolume("A small capacitor across the gain", wideSize, [controlled, topCut]),
  compact: rowsCompact("Gain control and top-cut capacitor", [controlled, topCut]),
};

export const lesson10: Pair = {
  wide: stageWithVolume("Two diodes across the gain", [20, 10], [controlled, topCut, ...diodes]),
  compact: rowsCompact("Two diodes across the gain", diodes),
};

/** Names alone, for four feedback parts beside the leg leave no room for values. */
const allRowsPlan: StagePlan = {...compactPlan, rows: [3.75, 4.75, 5.75, 6.75]};

export const lesson12: Pair = {
  wide: stageWithVolume("The leg capacitor before the diodes", [20, 10], [controlled, topCut, ...diodes]),
  compact: together(
    "The leg capacitor before the diodes",
    [7.5, 7.25],
    compactInput,
    amplifying(allRowsPlan, compactFrom, [controlled, topCut, ...diodes], inside, {
      valueless: true,
      shift: [4, -11],
    }),
    leg(compactPlan, true, "ground", compactShift),
    compactOut,
  ),
};

/** The gain stage with all its parts, a row of the whole pedal. */
export const gainRow: Fragment = together(
  "",
  [20, 10],
  input,
  amplifying(widePlan, from, [controlled, topCut, ...diodes]),
  leg(widePlan, true, "ground"),
  {
    wires: [
      [
        [12, 3],
        [15, 3],
      ],
    ],
    marks: [{kind: "end", node: "o", at: [15, 3], text: "to R5", side: "right"}],
  },
);
