import {responseCorners} from "../../engine/analysis/response-corners.ts";
import {twoPiSlips} from "../../engine/answers/numeric-exercise.ts";
import {controlsOf, courseCircuit} from "../../engine/course/course-circuit.ts";
import {faradsOf, pickupHenries, resonanceHz, wireFarads} from "../../engine/course/formulas.ts";
import {cableFaradsPerMetre} from "../../engine/course/parts.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Exercise} from "./exercise.ts";

// Between two stops of the bench's cable, so that no label on the bench gives the answer away.
const longMetres = 7;
const {circuit: withLong, listenAt} = courseCircuit({lesson: 1, settings: {cable: longMetres}});
const {circuit: atStart, listenAt: startListensAt} = courseCircuit({lesson: 1, settings: {}});
const L = pickupHenries(withLong);
const C = wireFarads(withLong);
const answer = resonanceHz(withLong);
const hump = responseCorners(withLong, listenAt).peak.frequencyHz;
const resonance = (farads: number) => 1 / (2 * Math.PI * Math.sqrt(L * farads));
const henries = formatQuantity(L, "H");
const cableFarads = formatQuantity(faradsOf(withLong, "cable"), "F");
const startHump = responseCorners(atStart, startListensAt).peak.frequencyHz;
const startMetres = controlsOf(1).find(({name}) => name === "cable")?.start ?? 0;

const wantedHz = 4000;
const mostFarads = 1 / ((2 * Math.PI * wantedHz) ** 2 * L);
const takenFarads = faradsOf(atStart, "pickup capacitance") + faradsOf(atStart, "amplifier cable");
const leftFarads = mostFarads - takenFarads;

export const lesson01: readonly Exercise[] = [
  {
    id: "1.1",
    kind: "number",
    question: `The guitar's cable is swapped for one of ${formatQuantity(longMetres, "m")}, ${cableFarads} in all. The coil has ${henries} and ${formatQuantity(faradsOf(withLong, "pickup capacitance"), "F")} of its own; the amplifier's cable has ${formatQuantity(faradsOf(withLong, "amplifier cable"), "F")}. Where is the resonance, by the formula?`,
    hints: [
      "Capacitances side by side add up. The resonance wants the sum of all three.",
      "f = 1 / (2π · √(L · C)), with C the sum.",
      `L = ${henries} and C = ${formatQuantity(C, "F")}.`,
    ],
    working: `C = ${formatQuantity(C, "F")} in all, so f = 1 / (2π · √(${henries} · ${formatQuantity(C, "F")})) = ${formatQuantity(answer, "Hz")}. With ${formatQuantity(startMetres, "m")} it was ${formatQuantity(resonanceHz(atStart), "Hz")}.`,
    marking: {
      id: "1.1",
      unit: "Hz",
      answer,
      // Narrower than the gap between formula and hump: the question asks for the one and not for the other.
      tolerance: 0.01,
      slips: [
        ...twoPiSlips(answer),
        {cause: "the amplifier's cable was left out", gives: resonance(C - faradsOf(withLong, "amplifier cable"))},
        {cause: "only the guitar's cable was counted", gives: resonance(faradsOf(withLong, "cable"))},
        {cause: "the cable still had its old length", gives: resonanceHz(atStart)},
        {cause: "the square root was left out", gives: 1 / (2 * Math.PI * L * C)},
      ],
      remarks: [
        {
          low: 0.995 * startHump,
          high: 1.005 * startHump,
          says: "That is where the hump stands on the bench at the start: the cable still has its old length there, and the formula was asked for and not the curve.",
        },
        {
          low: 0.995 * hump,
          high: 1.005 * hump,
          says: "That is where the hump stands on the curve, with the resistors at work. The formula leaves them out.",
        },
      ],
    },
  },
  {
    id: "1.2",
    kind: "number",
    question: `A player wants the resonance at ${formatQuantity(wantedHz, "Hz")} or above, with the same coil of ${henries}. How much capacitance may there be at most, by the formula and with everything counted? Round it downwards: it is a limit.`,
    hints: [
      "It is the same formula, asked the other way round.",
      "C = 1 / ((2π · f)² · L).",
      `f = ${formatQuantity(wantedHz, "Hz")} and L = ${henries}.`,
    ],
    working: `C = 1 / ((2π · ${formatQuantity(wantedHz, "Hz")})² · ${henries}) = ${formatQuantity(mostFarads, "F")}. The coil and the amplifier's cable take ${formatQuantity(takenFarads, "F")} of it already. That leaves ${formatQuantity(leftFarads, "F")} for the guitar's own cable, ${formatQuantity(leftFarads / cableFaradsPerMetre, "m", {figures: 2})} of the kind used here.`,
    marking: {
      id: "1.2",
      unit: "F",
      answer: mostFarads,
      tolerance: 0.03,
      atMost: true,
      slips: [
        {cause: "the 2π was left out", gives: 1 / (wantedHz ** 2 * L)},
        {cause: "the 2π was not squared along with f", gives: 1 / (2 * Math.PI * wantedHz ** 2 * L)},
        {cause: "the square was left out", gives: 1 / (2 * Math.PI * wantedHz * L)},
        {cause: "π stood where 2π belongs", gives: 4 * mostFarads},
        {cause: "only what is left for the guitar's cable was given: everything counts here", gives: leftFarads},
      ],
      remarks: [
        {low: mostFarads, high: 1.1 * mostFarads, says: "So close above the limit, the resonance is already too low."},
        {low: 0.3 * mostFarads, high: mostFarads, says: "That would do, but a little more is allowed."},
      ],
    },
  },
  {
    id: "1.3",
    kind: "choice",
    question:
      "You record two cables, one after the other, and ask a friend which sounds better. Which change makes the comparison fair soonest?",
    options: [
      {
        value: "good",
        label: "Use better headphones",
        says: "They help a little with everything. But the louder of the two still wins.",
      },
      {
        value: "names",
        label: "Tell your friend which is which, to be open about it",
        says: "Then the answer is about what your friend thinks of cables.",
      },
      {
        value: "twice",
        label: "Play each phrase twice",
        says: "Two takes are never the same. Play one take through both.",
      },
      {
        value: "level",
        label: "Bring both to the same loudness",
        says: "Right. A small difference in level is heard as a difference in quality, and it hides everything else.",
      },
    ],
    right: "level",
    hints: [
      "What differs between the two recordings besides the cable?",
      "Same phrase, same loudness, no names.",
      "Of two equal sounds people prefer the louder one.",
    ],
    working: "Bring both to the same loudness first. Then use the same take for both, and hide which is which.",
  },
];
