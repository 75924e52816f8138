import {expect, test} from "vitest";
import {markAnswer, markValue, tellableSlips} from "../../src/engine/answers/mark-answer.ts";
import {acceptedInterval, toleranceOf} from "../../src/engine/answers/numeric-exercise.ts";
import {responseCorners} from "../../src/engine/analysis/response-corners.ts";
import {controlsOf, courseCircuit} from "../../src/engine/course/course-circuit.ts";
import {inputCornerHz, resonanceHz} from "../../src/engine/course/formulas.ts";
import {formatQuantity} from "../../src/engine/quantities/format-quantity.ts";
import {unitFacts} from "../../src/engine/quantities/unit.ts";
import {allExercises} from "../../src/lessons/exercises/exercises.ts";

const numeric = allExercises.flatMap((exercise) => (exercise.kind === "number" ? [exercise.marking] : []));
const choices = allExercises.flatMap((exercise) => (exercise.kind === "choice" ? [exercise] : []));

test("there are two to four exercises a lesson", () => {
  for (const lesson of [1, 2, 6, 10]) {
    const count = allExercises.filter(({id}) => id.startsWith(`${lesson}.`)).length;
    expect(count).toBeGreaterThanOrEqual(2);
    expect(count).toBeLessThanOrEqual(4);
  }
});

test.each(numeric)("$id: its answer, written with three figures and its unit, is right", (exercise) => {
  expect(markAnswer(formatQuantity(exercise.answer, exercise.unit), exercise).status).toBe("right");
});

test.each(numeric)("$id: both ends of the accepted interval count, and a hair beyond does not", (exercise) => {
  const {low, high} = acceptedInterval(exercise);
  // An interval of one value has no width; its exercise has a tolerance still.
  const width = Math.max(high - low, toleranceOf(exercise));
  for (const value of [low, high]) expect(markValue(value, "", exercise).status).toBe("right");
  for (const value of [low - width / 100, high + width / 100])
    expect(markValue(value, "", exercise).status).toBe("not yet");
});

test.each(numeric)("$id: what is printed as counting counts, typed as it is printed", (exercise) => {
  const marking = markValue(exercise.answer, "", exercise);
  if (marking.status !== "right") throw new Error(`the answer of ${exercise.id} is marked ${marking.status}`);
  for (const end of marking.accepted.replace(" alone", "").split(" to "))
    expect(markAnswer(end, exercise).status).toBe("right");
});

test.each(numeric)("$id: each slip that can be told is named, and the answer is not given away", (exercise) => {
  const answer = formatQuantity(exercise.answer, exercise.unit);
  const slips = tellableSlips(exercise);
  expect(slips.length).toBeGreaterThanOrEqual(3);
  for (const {cause, gives} of slips) {
    const marking = markValue(gives, "", exercise);
    if (marking.status !== "not yet") throw new Error(`${cause} is marked ${marking.status}`);
    expect(marking.causes).toContain(cause);
    expect(marking.message).not.toContain(answer);
  }
});

test.each(numeric.filter(({absolute}) => !absolute))("$id: a wrong prefix is recognised", (exercise) => {
  const marking = markValue(exercise.answer * 1e3, "", exercise);
  expect(marking.status === "not yet" && marking.causes).toEqual(["the prefix slipped: look at the powers of ten"]);
});

test.each(choices)("$id: one choice is right and every choice says why", ({options, right}) => {
  expect(options.filter(({value}) => value === right)).toHaveLength(1);
  for (const {says} of options) expect(says.length).toBeGreaterThan(20);
});

test("where the right choice stands does not give it away", () => {
  const places = choices.map(({options, right}) => options.findIndex(({value}) => value === right));
  expect(new Set(places).size).toBeGreaterThanOrEqual(3);
});

test("the nearest slip of 6.2 and of 10.2, a hundredth or two away, is told and does not count", () => {
  const marked = (id: string, text: string) => {
    const exercise = numeric.find((each) => each.id === id);
    if (!exercise) throw new Error(`no exercise ${id}`);
    const marking = markAnswer(text, exercise);
    return [marking.status, marking.status === "not yet" ? marking.causes.join() : ""];
  };
  // By hand: 1/(2π · 330.05 kΩ · 33 nF) with R3 left out, and 0.6 V/51, the whole gain in place of 50.
  expect(marked("6.2", "14.61 Hz")).toEqual(["not yet", expect.stringContaining("R3 was left out")]);
  expect(marked("10.2", "11.76 mV")).toEqual(["not yet", expect.stringContaining("the whole gain")]);
});

test.each([
  // By hand: 20·log 2 = 6.02 dB, the slope of an octave far below a corner.
  ["2.3", "6 dB", "this is what every octave costs far below the corner"],
  ["2.3", "6.02 dB", "this is what every octave costs far below the corner"],
  ["2.2", "4.7 nF", "not the smallest value of the series"],
  ["1.1", "3.27 kHz", "That is where the hump stands on the bench at the start"],
  ["1.2", "610 pF", "round what is the most downwards"],
  ["6.3", "390 nF", "not the smallest value of the series"],
  ["6.3", "470 nF", "not the smallest value of the series"],
  ["6.3", "300 nF", "a value of the E24 series, and none of the twelve"],
  ["6.3", "360 nF", "a value of the E24 series, and none of the twelve"],
  ["6.3", "220 nF", "trails by more than was allowed"],
  ["6.3", "3.3 µF", "the decimal point slipped by a place"],
  ["6.3", "33 nF", "the decimal point slipped by a place"],
  ["10.2", "600 mV", "the diodes' voltage was taken for the input's"],
])("%s: %s is told that %s", (id, text, says) => {
  const exercise = numeric.find((each) => each.id === id);
  if (!exercise) throw new Error(`no exercise ${id}`);
  expect(markAnswer(text, exercise)).toMatchObject({status: "not yet", message: expect.stringContaining(says)});
});

test("the example that shows how an answer is written is neither an answer nor one of its slips", () => {
  for (const exercise of numeric) {
    for (const text of unitFacts[exercise.unit].example.split(" or "))
      expect(markAnswer(text, exercise), `${exercise.id}: ${text}`).toMatchObject({status: "not yet", causes: []});
  }
});

test("no stop of the bench shows the answer of 1.1 or 2.1, and the hump of 1.1 is told from the formula", () => {
  const answerOf = (id: string) => numeric.find((each) => each.id === id)?.answer ?? Number.NaN;
  const stops = (lesson: number, name: string) => controlsOf(lesson).find((each) => each.name === name)?.values ?? [];
  const circuitAt = (lesson: number, name: string, value: number) => courseCircuit({lesson, settings: {[name]: value}});
  const shown = [
    ...stops(1, "cable").map((metres) => [answerOf("1.1"), resonanceHz(circuitAt(1, "cable", metres).circuit)]),
    ...stops(2, "C1").map((farads) => [answerOf("2.1"), inputCornerHz(circuitAt(2, "C1", farads).circuit)]),
  ];
  for (const [answer = 0, stop = 0] of shown) expect(Math.abs(stop / answer - 1)).toBeGreaterThan(0.02);

  const exercise = numeric.find(({id}) => id === "1.1");
  if (!exercise) throw new Error("no exercise 1.1");
  const {circuit, listenAt} = circuitAt(1, "cable", 7);
  expect(resonanceHz(circuit)).toBe(exercise.answer);
  const marking = markValue(responseCorners(circuit, listenAt).peak.frequencyHz, "", exercise);
  expect(marking).toMatchObject({status: "not yet", message: expect.stringContaining("where the hump stands")});
});
