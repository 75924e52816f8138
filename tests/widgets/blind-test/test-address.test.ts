import {expect, test} from "vitest";
import {startSetting} from "../../../src/engine/course/course-circuit.ts";
import {readTestAddress, testAddress, testOfLesson} from "../../../src/widgets/blind-test/test-address.ts";

test("the test of a lesson as it starts is a short address", () => {
  const address = testAddress({...testOfLesson(2), phrase: "riff", trials: 16});
  expect(address).toBe("lesson=2");
  expect(readTestAddress(`#${address}`)).toMatchObject({
    now: startSetting(2),
    held: {lesson: 1},
    phrase: "riff",
    trials: 16,
    notUnderstood: [],
  });
});

test("a bench, its before, the phrase and the number of trials come back from the address", () => {
  const address = "lesson=2&C1=470p&before.cable=10&phrase=single-note-line&trials=20";
  const read = readTestAddress(`#${address}`);
  if (!read) throw new Error("not read");
  expect(read.now.settings["C1"]).toBe(470e-12);
  expect(read.held).toEqual({lesson: 1, settings: {cable: 10}});
  expect([read.phrase, read.trials, read.notUnderstood]).toEqual(["single-note line", 20, []]);
  expect(testAddress(read)).toBe(address);
});

test("what cannot be read is told, and an address without a lesson is none", () => {
  expect(readTestAddress("#lesson=2&trials=11&C7=1n")?.notUnderstood).toEqual(["trials=11", "C7=1n"]);
  expect(readTestAddress("#lesson=22")).toBeUndefined();
  expect(readTestAddress("#blind-test")).toBeUndefined();
});
