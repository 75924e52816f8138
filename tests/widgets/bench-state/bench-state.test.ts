import {beforeEach, expect, test} from "vitest";
import {
  backToStart,
  held,
  heldPlace,
  isAtStart,
  keepAsBefore,
  letGo,
  lesson,
  note,
  now,
  partInHand,
  isInHand,
  takeInHand,
  turn,
} from "../../../src/widgets/bench-state/bench-state.ts";
import {noteNamed, startNote} from "../../../src/widgets/bench-state/notes.ts";
import {heldResponse, nowResponse} from "../../../src/widgets/bench-state/responses.ts";

beforeEach(() => {
  lesson.value = 2;
  backToStart();
  letGo();
});

test("turning a control moves the curve now and leaves before alone", () => {
  const [first, before] = [nowResponse.value, heldResponse.value];
  turn("C1", 470e-12);
  expect(now.value["C1"]).toBe(470e-12);
  expect(nowResponse.value.gainDb[0]).toBeLessThan((first.gainDb[0] ?? 0) - 20);
  expect(heldResponse.value).toBe(before);
});

test("every curve has 400 points from 20 Hz to 20 kHz", () => {
  for (const {frequenciesHz, gainDb} of [nowResponse.value, heldResponse.value]) {
    expect([frequenciesHz[0], frequenciesHz[399], frequenciesHz.length, gainDb.length]).toEqual([20, 20_000, 400, 400]);
  }
});

test("keep as before holds what stands now, and back to start lets it go", () => {
  turn("C1", 470e-12);
  keepAsBefore();
  turn("C1", 1e-9);
  expect(heldPlace("C1")).toBe(470e-12);
  backToStart();
  expect([now.value["C1"], held.value.lesson]).toEqual([33e-9, 1]);
});

test("a control that is not on the bench, or no number, is an error that says so", () => {
  expect(() => turn("C9", 1)).toThrow('lesson 2 has no control "C9"');
  expect(() => turn("C1", Number.NaN)).toThrow("C1 must be set to a number, got NaN");
});

test("a pinned part stays in hand while others are passed", () => {
  takeInHand("R2");
  takeInHand("C1", {pin: true});
  takeInHand("R1");
  expect(partInHand.value).toBe("C1");
  letGo();
  takeInHand("R1");
  expect(partInHand.value).toBe("R1");
});

test("two parts are in hand together until one is taken alone", () => {
  letGo();
  takeInHand("D1", {also: ["D2"]});
  expect(["D1", "D2", "R1"].map(isInHand)).toEqual([true, true, false]);
  takeInHand("D2");
  expect(["D1", "D2"].map(isInHand)).toEqual([false, true]);
});

test("back to start brings the note of the figures back as well", () => {
  note.value = noteNamed("1k");
  backToStart();
  expect(note.value).toBe(startNote);
});

test("the phrase level is no part of the circuit: moving it leaves the curve the very same", () => {
  const before = nowResponse.value;
  turn("phraseLevel", 1);
  expect(nowResponse.value).toBe(before);
  turn("cable", 15);
  expect(nowResponse.value).not.toBe(before);
});

test("a bench is at its start until a control or 'before' has moved, and after it went back", () => {
  expect(isAtStart.value).toBe(true);
  turn("guitarVolume", 0.5);
  expect(isAtStart.value).toBe(false);
  turn("guitarVolume", 1);
  expect(isAtStart.value).toBe(true);
  keepAsBefore();
  expect(isAtStart.value).toBe(false); // before was the wire
  backToStart();
  expect(isAtStart.value).toBe(true);
});
