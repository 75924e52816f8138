import {twoPiSlips} from "../../engine/answers/numeric-exercise.ts";
import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {faradsOf, inputCornerHz, loadOhms, ohmsOf, parallelOhms} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {preferredValues} from "../../engine/quantities/preferred-values.ts";
import type {Exercise} from "./exercise.ts";

// A value of E24, between two stops of the bench, so that no label on it gives the answer away.
const smallFarads = 5.1e-9;
const {circuit} = courseCircuit({lesson: 2, settings: {C1: smallFarads}});
const R1 = ohmsOf(circuit, "R1");
const R2 = ohmsOf(circuit, "R2");
const amplifier = ohmsOf(circuit, "amplifier resistance");
const load = loadOhms(circuit);
const C1 = faradsOf(circuit, "C1");
const corner = inputCornerHz(circuit);
const cornerOf = (ohms: number, farads = C1) => 1 / (2 * Math.PI * ohms * farads);

// The open low E in equal temperament on A = 440 Hz (ISO 16).
const lowEHz = 440 * 2 ** (-29 / 12);
const exactFarads = 1 / (2 * Math.PI * (R1 + load) * lowEHz);
const nextUp = (farads: number) => preferredValues("E12", farads, farads * 10)[0] ?? farads;
const boughtFarads = nextUp(exactFarads);

const e12Text = preferredValues("E12", 1, 2.2)
  .map((value) => formatQuantity(value, ""))
  .join(", ");

/** What C1 at four times and R2 at half leave of the corner, with the amplifier beside R2. */
const bothRatio = (R1 + load) / (R1 + parallelOhms(R2 / 2, amplifier)) / 4;
const lossDb = (cornerRatio: number) => 10 * Math.log10(1 + cornerRatio ** 2);
const octaveAboveDb = lossDb(1 / 2);
const [ohmsText, loadText] = [formatQuantity(R1, "Ω"), formatQuantity(load, "Ω")];

export const lesson02: readonly Exercise[] = [
  {
    id: "2.1",
    kind: "number",
    question: `C1 is ${formatQuantity(smallFarads, "F")}, between two stops of the bench, R1 is ${ohmsText}, R2 ${formatQuantity(R2, "Ω")}, and the amplifier's input of ${formatQuantity(amplifier, "Ω")} is plugged in. Where is the corner, by the formula?`,
    hints: [
      "Follow the current to ground: what does it pass through, and where can it choose between two ways?",
      "f = 1 / (2π · (R1 + R2 ∥ amplifier) · C1), and side by side R2 and the amplifier count as R2 · Ramp / (R2 + Ramp).",
      `R1 + R2 ∥ amplifier = ${ohmsText} + ${loadText}, and C1 = ${formatQuantity(C1, "F")}.`,
    ],
    working: `f = 1 / (2π · (${ohmsText} + ${loadText}) · ${formatQuantity(C1, "F")}) = ${formatQuantity(corner, "Hz")}.`,
    marking: {
      id: "2.1",
      unit: "Hz",
      answer: corner,
      tolerance: 0.02,
      slips: [
        ...twoPiSlips(corner),
        {cause: "the amplifier was left out", gives: cornerOf(R1 + R2)},
        {cause: "R2 and the amplifier were added as if in series", gives: cornerOf(R1 + R2 + amplifier)},
        {cause: "only R1 was counted", gives: cornerOf(R1)},
        {cause: "C1 still had its start value", gives: inputCornerHz(courseCircuit({lesson: 2, settings: {}}).circuit)},
      ],
    },
  },
  {
    id: "2.2",
    kind: "number",
    question: `Parts are sold in series of values; E12 has twelve in each decade, ${e12Text} and so on. Which C1 of this series is the smallest that keeps the corner at or below the open low E, ${formatQuantity(lowEHz, "Hz")}? By the formula, with R1, R2 and the amplifier as in 2.1.`,
    hints: [
      "Turn the formula round: which C puts the corner exactly at the low E? Then go to a value that is sold.",
      "C = 1 / (2π · (R1 + R2 ∥ amplifier) · f). A larger C makes the corner lower, so take the next value up.",
      `R1 + R2 ∥ amplifier = ${formatQuantity(R1 + load, "Ω")}, f = ${formatQuantity(lowEHz, "Hz")}.`,
    ],
    working: `Exactly at the low E it would be ${formatQuantity(exactFarads, "F")}. The next E12 value up is ${formatQuantity(boughtFarads, "F")}, and its corner is ${formatQuantity(cornerOf(R1 + load, boughtFarads), "Hz")}.`,
    marking: {
      id: "2.2",
      unit: "F",
      answer: boughtFarads,
      // A value that is bought is that value and no other; the slack is for 3n9 written as 0.0039 µF.
      tolerance: 0.001,
      slips: [
        {
          cause: "the value was rounded down: its corner lies above the low E",
          gives: preferredValues("E12", exactFarads / 10, exactFarads).at(-1) ?? 0,
        },
        {cause: "the amplifier was left out", gives: nextUp(1 / (2 * Math.PI * (R1 + R2) * lowEHz))},
        {cause: "the 2π was left out", gives: nextUp(2 * Math.PI * exactFarads)},
        {cause: "the exact value was given; it is not in the series", gives: Number(exactFarads.toPrecision(3))},
      ],
      remarks: [
        {
          low: 0.98 * exactFarads,
          high: 0.999 * boughtFarads,
          says: "That is near the exact value, but it is not in the series: take the next one up.",
        },
        {
          low: boughtFarads,
          high: Infinity,
          says: "With that the corner is low enough, but it is not the smallest value of the series that will do.",
        },
      ],
    },
  },
  {
    id: "2.3",
    kind: "number",
    question:
      "One octave above its corner, at twice its frequency, how many decibels does a high-pass of one capacitor still lose against far above?",
    hints: [
      "At the corner itself it has lost three decibels, and far above nothing. An octave above the corner it must lie in between.",
      "The loss is 10 · log(1 + (corner / f)²), with the logarithm to base 10.",
      "An octave above, corner / f = 1/2.",
    ],
    working: `10 · log(1 + (1/2)²) = ${formatQuantity(octaveAboveDb, "dB")}.`,
    marking: {
      id: "2.3",
      unit: "dB",
      answer: octaveAboveDb,
      tolerance: 0.05,
      absolute: true,
      slips: [
        {cause: "the straight lines were taken: the bend begins before the corner", gives: 0},
        {cause: "this is the loss an octave below: there corner / f is 2", gives: lossDb(2)},
        {cause: "this is the loss at the corner itself", gives: lossDb(1)},
        {
          cause:
            "this is what every octave costs far below the corner, where the curve is straight; here it is above it",
          gives: 20 * Math.log10(2),
        },
        {cause: "20 · log was taken of a sum of squares", gives: 2 * octaveAboveDb},
        {cause: "the square was left out", gives: 10 * Math.log10(1 + 1 / 2)},
        {cause: "the sign is the other one: a loss was asked for", gives: -octaveAboveDb},
      ],
    },
  },
  {
    id: "2.4",
    kind: "choice",
    question: "You want the corner an octave lower, and the guitar as bright as before. What do you change?",
    options: [
      {
        value: "R2",
        label: "R2 to half its value",
        says: "That moves the corner up, and loads the guitar more: duller and thinner at once.",
      },
      {
        value: "C1",
        label: "C1 to twice its value",
        says: "Right. The corner halves, and what the guitar has to drive stays the same.",
      },
      {
        value: "R1",
        label: "R1 to twice its value",
        says: "R1 is small beside the load: the corner hardly moves, and R1 takes a little level.",
      },
      {
        value: "both",
        label: "C1 to four times and R2 to half",
        says: `The corner falls too far, to ${formatQuantity(bothRatio, "", {figures: 2})} of what it was: with the amplifier beside R2, half of R2 is not half of the load. And the smaller R2 presses the hump of the guitar flat.`,
      },
    ],
    right: "C1",
    hints: [
      "Which of the parts does the guitar feel as a load?",
      "The corner goes with 1 / (R · C). The load on the guitar is R2 with the amplifier beside it.",
      "Twice C1 is half the corner, with every resistor as it was.",
    ],
    working: "Double C1. The corner halves; nothing that loads the guitar has changed.",
  },
];
