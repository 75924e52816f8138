import {expect, test} from "vitest";
import {frequencyResponse, logFrequencies, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {courseCircuit, lessonCount, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {heardStages} from "../../../src/engine/course/heard-stages.ts";

const benchOf = (lesson: number) => courseCircuit(startSetting(lesson));
const gainDb = (lesson: number) => {
  const {circuit, listenAt} = benchOf(lesson);
  return magnitudeDb(frequencyResponse(circuit, listenAt, logFrequencies(80, 10_000, 40)));
};

test("the stages go from the wire to the whole pedal, each once", () => {
  expect(heardStages).toEqual([1, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]);
});

test("what is left out has no sound of its own", () => {
  const two = gainDb(2);
  // A tenth of a decibel is below what an ear tells.
  gainDb(3).forEach((each, k) => expect(Math.abs(each - (two[k] ?? NaN))).toBeLessThan(0.1));
  for (let lesson = 17; lesson <= lessonCount; lesson++) {
    expect(benchOf(lesson), `lesson ${lesson}`).toEqual(benchOf(16));
  }
});

test("no stage is the circuit of the one before it", () => {
  for (const [k, lesson] of heardStages.entries()) {
    if (k > 0) expect(benchOf(lesson), `lesson ${lesson}`).not.toEqual(benchOf(heardStages[k - 1] ?? 0));
  }
});
