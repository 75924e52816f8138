import type {NodeName} from "../circuit/part.ts";
import type {ControlName} from "./controls.ts";

/** What stands on the bench in one lesson, told as the difference from the lesson it grows out of. */
export type LessonDeclaration = Readonly<{
  lesson: number;
  /** The lesson whose circuit this one starts from; absent for the first. */
  from?: number;
  adds: readonly string[];
  removes?: readonly string[];
  /** Parts that hang between other nodes here than in the whole pedal; the change stays until it is changed again. */
  places?: Readonly<Record<string, readonly NodeName[]>>;
  /** Node that the amplifier hangs on and that one listens to, if it changes. */
  listenAt?: NodeName;
  phrasePeakVolts: number;
  /** Controls that start elsewhere than in the whole pedal, in this lesson alone. */
  starts?: Readonly<Record<ControlName, number>>;
  /** What a comparison plays first. */
  before: Readonly<{lesson: number; settings: Readonly<Record<ControlName, number>>}>;
  /** Controls that the lesson is about, in the order it speaks of them; every other part can still be turned. */
  turns: readonly ControlName[];
}>;

const quiet = 0.025;
const loud = 0.3;
const barelyOpen = 0.09;

/** Lessons 1 to 21: the one table of what is in the circuit when. */
export const lessonTable: readonly LessonDeclaration[] = [
  {
    lesson: 1,
    adds: [
      "guitar",
      "pickup resistance",
      "pickup inductance",
      "pickup capacitance",
      "guitar volume",
      "cable",
      "amplifier resistance",
      "amplifier cable",
    ],
    listenAt: "in",
    phrasePeakVolts: loud,
    before: {lesson: 1, settings: {cable: 0.5}},
    turns: ["cable", "guitarVolume", "amplifierOhms"],
  },
  {
    lesson: 2,
    from: 1,
    adds: ["R1", "C1", "R2"],
    places: {R2: ["p", "0"]},
    listenAt: "p",
    phrasePeakVolts: loud,
    before: {lesson: 1, settings: {}},
    turns: ["C1", "R2", "R1", "amplifierOhms"],
  },
  {
    lesson: 3,
    from: 2,
    adds: ["battery", "D3", "R8", "R9", "C8"],
    places: {R2: ["p", "ref"]},
    phrasePeakVolts: loud,
    before: {lesson: 2, settings: {}},
    turns: ["batteryVolts", "battery", "D3", "R8", "R9", "C8"],
  },
  {
    lesson: 4,
    from: 3,
    adds: ["U1", "U1 feedback", "bench coupling"],
    listenAt: "w",
    phrasePeakVolts: loud,
    starts: {amplifierCable: 10},
    before: {lesson: 3, settings: {amplifierCable: 10}},
    turns: ["amplifierCable", "amplifierOhms", "U1"],
  },
  {
    lesson: 5,
    from: 4,
    adds: ["RV1", "R3"],
    removes: ["U1 feedback"],
    places: {R3: ["m", "ref"]},
    phrasePeakVolts: quiet,
    starts: {RV1: barelyOpen},
    before: {lesson: 4, settings: {phraseLevel: quiet, amplifierCable: 3}},
    turns: ["RV1", "R3", "leg"],
  },
  {
    lesson: 6,
    from: 5,
    adds: ["C3"],
    places: {R3: ["m", "n"]},
    phrasePeakVolts: quiet,
    starts: {RV1: barelyOpen},
    before: {lesson: 5, settings: {}},
    turns: ["RV1", "C3", "R3"],
  },
  {
    lesson: 7,
    from: 6,
    adds: ["C5", "RV2"],
    removes: ["bench coupling"],
    places: {C5: ["o", "w"]},
    listenAt: "out",
    phrasePeakVolts: quiet,
    starts: {RV1: barelyOpen},
    before: {lesson: 6, settings: {}},
    turns: ["RV2", "RV2Taper", "C5", "amplifierOhms", "RV1"],
  },
  {
    lesson: 8,
    from: 7,
    adds: [],
    phrasePeakVolts: loud,
    starts: {RV1: 1},
    before: {lesson: 8, settings: {RV1: barelyOpen}},
    turns: ["RV1", "phraseLevel", "batteryVolts", "U1"],
  },
  {
    lesson: 9,
    from: 8,
    adds: ["C4"],
    phrasePeakVolts: quiet,
    before: {lesson: 8, settings: {RV1: 0.5, phraseLevel: quiet}},
    turns: ["C4", "RV1", "phraseLevel"],
  },
  {
    lesson: 10,
    from: 9,
    adds: ["D1", "D2"],
    phrasePeakVolts: loud,
    before: {lesson: 9, settings: {phraseLevel: loud}},
    turns: ["RV1", "phraseLevel", "diodesFitted"],
  },
  {
    lesson: 11,
    from: 10,
    adds: [],
    phrasePeakVolts: loud,
    starts: {diodes: 5},
    before: {lesson: 10, settings: {}},
    turns: ["diodes", "D1InSeries", "D2InSeries", "RV1", "phraseLevel"],
  },
  {
    lesson: 12,
    from: 10,
    adds: [],
    phrasePeakVolts: loud,
    starts: {C3: 330e-9},
    before: {lesson: 10, settings: {}},
    turns: ["C3", "R3", "RV1", "phraseLevel"],
  },
  {
    lesson: 13,
    from: 10,
    adds: ["R5"],
    places: {R5: ["o", "h"], D1: ["h", "ref"], D2: ["ref", "h"], C5: ["h", "w"]},
    phrasePeakVolts: loud,
    before: {lesson: 10, settings: {}},
    turns: ["RV1", "phraseLevel", "R5", "diodes"],
  },
  {
    lesson: 14,
    from: 10,
    adds: ["R5", "RV3", "C6"],
    places: {R5: ["o", "q"], C5: ["t", "w"]},
    phrasePeakVolts: loud,
    before: {lesson: 10, settings: {}},
    turns: ["RV3", "RV2", "R5", "C6"],
  },
  {
    lesson: 15,
    from: 14,
    adds: [],
    phrasePeakVolts: loud,
    starts: {C6: 22e-9},
    before: {lesson: 14, settings: {}},
    turns: ["C6", "RV3", "RV3Taper"],
  },
  ...wholePedal(16, ["RV1", "RV3", "RV2", "guitarVolume"]),
  ...wholePedal(17, ["RV1", "C4", "R3", "U1"]),
  ...wholePedal(18, ["RV1", "RV3"]),
  ...wholePedal(19, ["batteryVolts", "U1", "D3"]),
  ...wholePedal(20, ["RV1", "RV3", "RV2"]),
  ...wholePedal(21, ["C1", "R3", "C3", "RV1", "C4", "diodes", "R5", "C6", "RV3", "batteryVolts"]),
];

function wholePedal(lesson: number, turns: readonly ControlName[]): readonly LessonDeclaration[] {
  return [{lesson, from: 14, adds: [], phrasePeakVolts: loud, before: {lesson: 1, settings: {}}, turns}];
}
