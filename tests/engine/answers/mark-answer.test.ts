import {expect, test} from "vitest";
import {markAnswer} from "../../../src/engine/answers/mark-answer.ts";
import {twoPiSlips, type NumericExercise} from "../../../src/engine/answers/numeric-exercise.ts";

// 1/(2π · 3.3 kΩ · 68 nF), worked out by hand: 2π · 3300 · 68e-9 = 1.40995e-3, its inverse 709.2 Hz.
const answer = 1 / (2 * Math.PI * 3.3e3 * 68e-9);
const corner: NumericExercise = {id: "x", unit: "Hz", answer, tolerance: 0.02, slips: twoPiSlips(answer)};

test.each(["709 Hz", "709Hz", "0.709 kHz", "0,709 kHz", "709.2 hertz", "7.09e2 Hz"])("%s is right", (text) => {
  expect(markAnswer(text, corner)).toMatchObject({status: "right", accepted: "695\u00a0Hz to 723\u00a0Hz"});
});

test("a missing 2π is named, with the ratio", () => {
  const marking = markAnswer("4.456 kHz", corner);
  expect(marking).toMatchObject({
    status: "not yet",
    message:
      "Not yet. Your number is 2π times too big. It looks as if the 2π was left out: that is a corner in radians per second.",
  });
});

test("a wrong prefix is named", () => {
  expect(markAnswer("709 kHz", corner)).toMatchObject({
    message:
      "Not yet. Your number is 1000 times too big. It looks as if the prefix slipped: look at the powers of ten.",
  });
});

test("a slip and a prefix slip together are both named", () => {
  expect(markAnswer("4.456 MHz", corner)).toMatchObject({
    causes: ["the 2π was left out: that is a corner in radians per second, and the prefix slipped as well"],
  });
});

test("a missing unit is asked about and is no try", () => {
  expect(markAnswer("709", corner)).toMatchObject({
    status: "unit missing",
    message: "I read this as 709, without its unit. Write the unit too, such as Hz.",
  });
});

test("an ambiguous comma is asked about", () => {
  expect(markAnswer("3,145 Hz", corner)).toEqual({
    status: "unreadable",
    message: "“3,145” can be read as 3.145 or as 3145. Write 3.145 or 3145.",
  });
});

test("the unit of something else is named", () => {
  expect(markAnswer("709 nF", corner)).toEqual({
    status: "unreadable",
    message: "“nF” belongs to a capacitance. Write a frequency, such as 709 Hz or 3.4 kHz.",
  });
});

test("a number that fits no slip is said to", () => {
  expect(markAnswer("500 Hz", corner)).toMatchObject({
    causes: [],
    message:
      "Not yet. Your number is 1.4 times too small. It fits no slip I know; the hints may show where it went another way.",
  });
});
