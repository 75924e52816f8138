import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {fullGain, gainOhms, ohmsOf} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Exercise} from "./exercise.ts";

const {circuit} = courseCircuit({lesson: 10, settings: {}});
const [R3, gainResistance, gain] = [ohmsOf(circuit, "R3"), gainOhms(circuit), fullGain(circuit)];

// A silicon small-signal diode at a milliampere, as it is rounded at the bench (common practice, no published source). At the
// tenths of a milliampere of this stage D1 and D2 hold less, so the questions say that theirs are others.
const diodeVolts = 0.6;
const volts = (value: number) => formatQuantity(value, "V");

const loudVolts = 0.9;
const loudOutput = loudVolts + diodeVolts;

const holdsAt = diodeVolts / (gain - 1);

const [firstIn, firstOut, secondIn, secondOut] = [0.1, 0.64, 0.8, 1.4];
const decibels = (ratio: number) => 20 * Math.log10(ratio);
const [riseIn, riseOut] = [decibels(secondIn / firstIn), decibels(secondOut / firstOut)];
const lostDb = riseIn - riseOut;
const db = (value: number) => formatQuantity(value, "dB");

export const lesson10: readonly Exercise[] = [
  {
    id: "10.1",
    kind: "number",
    question: `Two other diodes stand in for D1 and D2, and the one that conducts holds ${volts(diodeVolts)}. Far above clipping, the + input stands at its peak of ${volts(loudVolts)}. How high is the output at that moment, counted from the reference?`,
    hints: [
      "Where does the other end of the diodes stand, when the op-amp keeps its two inputs alike?",
      "Output = input + what lies across the diodes.",
      `The input is ${volts(loudVolts)}, and the diode adds ${volts(diodeVolts)}.`,
    ],
    working: `${volts(loudVolts)} + ${volts(diodeVolts)} = ${volts(loudOutput)}. The input rides on top of what the diode holds.`,
    marking: {
      id: "10.1",
      unit: "V",
      answer: loudOutput,
      tolerance: 0.01,
      slips: [
        {cause: "the input was left out: the diodes hold what the stage adds, not the output", gives: diodeVolts},
        {cause: "the diode's voltage was taken away: it comes on top", gives: loudVolts - diodeVolts},
        {cause: "both diodes were counted: only one conducts at a time", gives: loudVolts + 2 * diodeVolts},
        {cause: "the diode was left out", gives: loudVolts},
      ],
    },
  },
  {
    id: "10.2",
    kind: "number",
    question: `For high notes C3 is a wire, and C4 is left out of this question. RV1 has ${formatQuantity(gainResistance, "Ω")}, R3 ${formatQuantity(R3, "Ω")}. Two other diodes stand in for D1 and D2 and conduct from ${volts(diodeVolts)} on. At which peak of the input do they get that?`,
    hints: [
      "What lies across the diodes is what lies across RV1: the output without the input.",
      "Across RV1 lies input · RV1 / R3, as long as no diode conducts.",
      `RV1 / R3 = ${formatQuantity(gain - 1, "")}, and the diodes are to get ${volts(diodeVolts)}.`,
    ],
    working: `${volts(diodeVolts)} · ${formatQuantity(R3, "Ω")} / ${formatQuantity(gainResistance, "Ω")} = ${volts(holdsAt)}.`,
    marking: {
      id: "10.2",
      unit: "V",
      answer: holdsAt,
      // The whole gain in place of RV1 / R3 is two parts in a hundred away, and a slip is told from three tolerances on.
      tolerance: 0.006,
      slips: [
        {
          cause: "you divided by the whole gain: across RV1 lies the output without the input",
          gives: diodeVolts / gain,
        },
        {cause: "both diodes were counted: only one conducts at a time", gives: 2 * holdsAt},
        {cause: "the diodes' voltage was taken for the input's: RV1 over R3 lies between them", gives: diodeVolts},
        {cause: "it was multiplied by the gain and not divided", gives: diodeVolts * gain},
        {cause: "the swing was halved once too often: the peak is counted to one side", gives: holdsAt / 2},
      ],
    },
  },
  {
    id: "10.3",
    kind: "number",
    question: `A stage puts out ${volts(firstOut)} for ${volts(firstIn)} at its input, and ${volts(secondOut)} for ${volts(secondIn)}. By how many decibels has the difference between the two notes become smaller?`,
    hints: [
      "How far apart are the two notes at the input, and how far at the output?",
      "A ratio of voltages in decibels is 20 · log(ratio).",
      `At the input the ratio is ${formatQuantity(secondIn / firstIn, "")}, at the output ${formatQuantity(secondOut / firstOut, "")}.`,
    ],
    working: `20 · log(${formatQuantity(secondIn / firstIn, "")}) = ${db(riseIn)} going in, 20 · log(${formatQuantity(secondOut / firstOut, "")}) = ${db(riseOut)} coming out: ${db(lostDb)} less.`,
    marking: {
      id: "10.3",
      unit: "dB",
      answer: lostDb,
      tolerance: 0.15,
      absolute: true,
      slips: [
        {cause: "10 · log was taken: that is for powers", gives: lostDb / 2},
        {cause: "that is how far apart they are at the output", gives: riseOut},
        {cause: "that is how far apart they were at the input", gives: riseIn},
      ],
    },
  },
  {
    id: "10.4",
    kind: "choice",
    question:
      "D2 makes room for a diode that holds twice the voltage; D1 stays. What becomes of a loud note, far above clipping?",
    options: [
      {
        value: "both",
        label: "both halves reach further, alike, and the harmonics stay odd",
        says: "D1 is what it was, and so is the half of the wave that it holds. Only the other half can grow.",
      },
      {
        value: "same",
        label: "nothing: D1 conducts first and holds both halves",
        says: "A diode conducts one way only. The half that goes down finds the new diode, and no other.",
      },
      {
        value: "down",
        label: "it reaches further down than up, and even harmonics appear",
        says: "Right. Up and down are no longer treated alike, and that is what even harmonics need.",
      },
      {
        value: "up",
        label: "it reaches further up than down, and even harmonics appear",
        says: "Even harmonics, yes. But the half that goes up is D1's, and D1 has not changed.",
      },
    ],
    right: "down",
    hints: [
      "Which half of the wave does D2 hold?",
      "A wave whose two halves are alike, but for their sign, has odd harmonics only.",
      "Choose D1 only on the bench: that is a D2 whose voltage is never reached.",
    ],
    working:
      "Up, the output is the input plus what D1 holds, as before. Down, it is the input plus twice that. The halves differ, so there are even harmonics.",
  },
];
