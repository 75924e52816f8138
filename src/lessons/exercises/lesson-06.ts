import {twoPiSlips} from "../../engine/answers/numeric-exercise.ts";
import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {gainOhms, legCornerHz, lowerLegCornerHz, ohmsOf} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {preferredValues} from "../../engine/quantities/preferred-values.ts";
import type {Exercise} from "./exercise.ts";

const smallerFarads = 47e-9;
const smaller = courseCircuit({lesson: 6, settings: {C3: smallerFarads}}).circuit;
const fullUp = courseCircuit({lesson: 6, settings: {RV1: 1}}).circuit;
const R3 = ohmsOf(smaller, "R3");
const [tenthOhms, fullOhms] = [gainOhms(smaller), gainOhms(fullUp)];
const corner = legCornerHz(smaller);
const [R3Text, smallerText] = [formatQuantity(R3, "Ω"), formatQuantity(smallerFarads, "F")];

// The open low E in equal temperament on A = 440 Hz (ISO 16); where the mids are read is our choice.
const [lowEHz, midsHz] = [440 * 2 ** (-29 / 12), 2000];
const squares = (ratio: number) => 10 * Math.log10(1 + ratio ** 2);

/** Gain of the stage in decibels by the formula of the lesson: up from the lower corner, level from the upper one. */
const stageDb = (farads: number, ohms: number, frequencyHz: number) =>
  squares(2 * Math.PI * frequencyHz * (R3 + ohms) * farads) - squares(2 * Math.PI * frequencyHz * R3 * farads);
const trailsDb = (farads: number) => stageDb(farads, fullOhms, midsHz) - stageDb(farads, fullOhms, lowEHz);

const allowedDb = 7;
const values = preferredValues("E12", 1e-9, 10e-6);
const boughtAt = values.findIndex((farads) => trailsDb(farads) <= allowedDb);
const [oneLess = 0, bought = 0] = [values[boughtAt - 1], values[boughtAt]];
const betweenE12 = preferredValues("E24", bought / 10, bought * 10).filter((farads) => !values.includes(farads));
const nextUp = (farads: number) => values.find((value) => value >= farads) ?? farads;
const cornerRatio = Math.sqrt(10 ** (allowedDb / 10) - 1);
const exactFarads = 1 / (2 * Math.PI * R3 * lowEHz * cornerRatio);

// Another C3 than the lesson's, whose lower corner the text names.
const lowerFarads = 33e-9;
const lowered = courseCircuit({lesson: 6, settings: {RV1: 1, C3: lowerFarads}}).circuit;
const lower = lowerLegCornerHz(lowered);
const C3Text = formatQuantity(lowerFarads, "F");
const cornerOf = (ohms: number, farads: number) => 1 / (2 * Math.PI * ohms * farads);

export const lesson06: readonly Exercise[] = [
  {
    id: "6.1",
    kind: "number",
    question: `C3 is changed to ${smallerText}; R3 stays at ${R3Text}. Where is the upper corner now?`,
    hints: [
      "Which two parts resist the same at the upper corner? The gain control is not one of them.",
      "f = 1 / (2π · R3 · C3).",
      `R3 = ${R3Text} and C3 = ${smallerText}.`,
    ],
    working: `f = 1 / (2π · ${R3Text} · ${smallerText}) = ${formatQuantity(corner, "Hz")}.`,
    marking: {
      id: "6.1",
      unit: "Hz",
      answer: corner,
      tolerance: 0.02,
      slips: [
        ...twoPiSlips(corner),
        {cause: "C3 still had its start value", gives: legCornerHz(fullUp)},
        {
          cause: "the gain control was counted in: that is the lower corner",
          gives: cornerOf(R3 + tenthOhms, smallerFarads),
        },
        {cause: "the gain control stood in place of R3", gives: cornerOf(tenthOhms, smallerFarads)},
      ],
    },
  },
  {
    id: "6.2",
    kind: "number",
    question: `The gain control is full up, ${formatQuantity(fullOhms, "Ω")}. C3 is changed to ${C3Text}, R3 stays at ${R3Text}. Where is the lower corner?`,
    hints: [
      "Below the lower corner the gain settles at one. Which resistors does C3 have to outweigh for that?",
      "f = 1 / (2π · (R3 + RV1) · C3).",
      `R3 + RV1 = ${formatQuantity(R3 + fullOhms, "Ω")} and C3 = ${C3Text}.`,
    ],
    working: `f = 1 / (2π · ${formatQuantity(R3 + fullOhms, "Ω")} · ${C3Text}) = ${formatQuantity(lower, "Hz")}.`,
    marking: {
      id: "6.2",
      unit: "Hz",
      answer: lower,
      // R3 left out is one part in a hundred away, and a slip is told from three tolerances on.
      tolerance: 0.003,
      slips: [
        ...twoPiSlips(lower),
        {cause: "the gain control was left out: that is the upper corner", gives: legCornerHz(lowered)},
        {cause: "C3 still had its start value", gives: lowerLegCornerHz(fullUp)},
        {cause: "R3 was left out: it is in the leg as well", gives: cornerOf(fullOhms, lowerFarads)},
        {
          cause: "the gain control stood where the lesson starts and not full up",
          gives: cornerOf(R3 + tenthOhms, lowerFarads),
        },
      ],
    },
  },
  {
    id: "6.3",
    kind: "number",
    question: `The gain control is full up and R3 is ${R3Text}. Which C3 of the E12 series, twelve values a decade, is the smallest with which the low E, ${formatQuantity(lowEHz, "Hz")}, trails ${formatQuantity(midsHz, "Hz")} by ${formatQuantity(allowedDb, "dB")} at most?`,
    hints: [
      "Full up, the lower corner is far below the low E: only the upper corner decides how much the E trails.",
      "The E trails by 10 · log(1 + (corner / f)²), nearly. Find the corner, then C3, then a value that is sold.",
      `Corner / f = √(10^(${allowedDb} / 10) − 1) = ${formatQuantity(cornerRatio, "")}.`,
    ],
    working: `The corner may be ${formatQuantity(cornerRatio * lowEHz, "Hz")}, so C3 is ${formatQuantity(exactFarads, "F")} or more. The next E12 value up is ${formatQuantity(bought, "F")}, and the low E then trails by ${formatQuantity(trailsDb(bought), "dB")}.`,
    marking: {
      id: "6.3",
      unit: "F",
      answer: bought,
      // A value that is bought is that value and no other; the slack is for 4n7 written as 0.0047 µF.
      tolerance: 0.001,
      slips: [
        {cause: "the value was rounded down: the low E trails by more than was allowed", gives: oneLess},
        {cause: "the corner was put at the low E itself", gives: nextUp(exactFarads * cornerRatio)},
        {cause: "the 2π was left out", gives: nextUp(2 * Math.PI * exactFarads)},
        {cause: "the exact value was given; it is not in the series", gives: Number(exactFarads.toPrecision(3))},
        {cause: "the decimal point slipped by a place", gives: bought * 10},
        {cause: "the decimal point slipped by a place", gives: bought / 10},
      ],
      // A decade on either side holds what is likely to be written.
      remarks: [
        ...betweenE12.map((farads) => ({
          low: farads * 0.999,
          high: farads * 1.001,
          says: "It is a value of the E24 series, and none of the twelve.",
        })),
        {
          low: 0.98 * exactFarads,
          high: 0.999 * bought,
          says: "That is near the exact value, but it is not in the series: take the next one up.",
        },
        {low: bought / 10, high: 0.98 * exactFarads, says: "With it the low E trails by more than was allowed."},
        {
          low: bought,
          high: bought * 10,
          says: "With it the low E trails by little enough, but it is not the smallest value of the series that does that.",
        },
      ],
    },
  },
  {
    id: "6.4",
    kind: "choice",
    question: "You want more gain from the same rotation, and the upper corner where it is. What do you change?",
    options: [
      {
        value: "R3",
        label: "R3 to half its value, C3 as it is",
        says: "The gain goes up, but so does the corner: the bass trails from higher up.",
      },
      {
        value: "both",
        label: "R3 to half and C3 to twice its value",
        says: "Right. Half the leg gives nearly twice the gain, and the product R3 · C3 is what it was.",
      },
      {
        value: "C3",
        label: "C3 to twice its value, R3 as it is",
        says: "The corner comes down, and far above it the gain is what it was: C3 is a wire there.",
      },
      {
        value: "swapped",
        label: "R3 to twice and C3 to half its value",
        says: "The corner stays, but a larger R3 makes the gain smaller.",
      },
    ],
    right: "both",
    hints: [
      "One formula gives the corner, another the gain. Which part is in both?",
      "The corner is 1 / (2π · R3 · C3), the gain 1 + RV1 / R3.",
      "A smaller R3 gives more gain; C3 must make up for it in the product.",
    ],
    working: "R3 to half and C3 to twice: R3 · C3 has not changed, RV1 / R3 has doubled.",
  },
];
