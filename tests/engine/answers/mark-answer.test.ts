import {expect, test} from "vitest";
import {markAnswer} from "../../../src/engine/answers/mark-answer.ts";
import {acceptedInterval, twoPiSlips, type NumericExercise} from "../../../src/engine/answers/numeric-exercise.ts";
import {plainAnswer} from "../../../src/engine/answers/plain-answer.ts";

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
    message: "“nF” belongs to a capacitance. Write a frequency, such as 440 Hz or 3.4 kHz.",
  });
});

test("a number that fits no slip is said to", () => {
  expect(markAnswer("500 Hz", corner)).toMatchObject({
    causes: [],
    message:
      "Not yet. Your number is 1.4 times too small. I don't recognise the slip. Compare your steps with those of the hints.",
  });
});

test.each([
  ["735 Hz", "4\u00a0% too big"], // 735/709.25 = 1.036
  ["600 Hz", "15\u00a0% too small"], // 600/709.25 = 0.846
  ["1.2 kHz", "1.7 times too big"],
  ["709 GHz", "more than a million times too big"],
])("%s is %s: a share below a fifth, a ratio above, and no row of noughts", (text, off) => {
  expect(markAnswer(text, corner)).toMatchObject({message: expect.stringContaining(`Your number is ${off}.`)});
});

test.each([
  ["709", "Hz"],
  ["0.709", "kHz"],
  ["709000", "mHz"],
])("a plain %s is asked for its unit with the prefix that fits, %s", (text, unit) => {
  expect(markAnswer(text, corner)).toMatchObject({
    status: "unit missing",
    message: expect.stringMatching(new RegExp(`such as ${unit}\\.$`)),
  });
});

test("a prefix without its unit is kept", () => {
  expect(markAnswer("709m", corner)).toMatchObject({
    message: "The unit is missing. If you mean 709\u00a0mHz, write that.",
  });
});

test.each(["≈ 709 Hz", "approx. 709 Hz", "about 709 Hz", "f = 709 Hz", "ca. 0.709 kHz", "<= 709 Hz", "709.0 Hz"])(
  "%s is read for its number",
  (text) => expect(markAnswer(text, corner).status).toBe("right"),
);

test("a space between thousands is read, and one before the unit stays one", () => {
  expect(plainAnswer("2 640 Hz")).toBe("2640 Hz");
  expect(plainAnswer("1\u202f002\u202f640 Hz")).toBe("1002640 Hz");
  expect(plainAnswer("2.64 kHz")).toBe("2.64 kHz");
});

test.each([
  ["900 mV + 600 mV = 1.5 V", "1.5 V"],
  ["f = 1/(2π · 3.3 kΩ · 47 nF) ≈ 1.03 kHz", "1.03 kHz"],
  ["1.5 V.", "1.5 V"],
  ["900 mV + 600 mV.", "900 mV + 600 mV"],
])("of %s stands %s", (text, plain) => expect(plainAnswer(text)).toBe(plain));

// A limit of 608.9 pF: what rounds to it in three figures counts, what lies above does not.
const most: NumericExercise = {
  id: "y",
  unit: "F",
  answer: 608.9e-12,
  tolerance: 0.03,
  atMost: true,
  slips: [],
  remarks: [{low: 0, high: 608.9e-12, says: "A little more is allowed."}],
};

test.each([
  ["608 pF", "right"],
  ["609 pF", "right"],
  ["591 pF", "right"],
  ["610 pF", "not yet"],
  ["590 pF", "not yet"], // 0.97 · 608.9 = 590.6
])("at a limit %s is %s", (text, status) => expect(markAnswer(text, most).status).toBe(status));

test("a remark stands where no slip fits", () => {
  expect(markAnswer("500 pF", most)).toMatchObject({
    message: "Not yet. Your number is 1.2 times too small. A little more is allowed.",
  });
});

test("a limit that was rounded up is told to be rounded downwards", () => {
  for (const text of ["610 pF", "0.61 nF"])
    expect(markAnswer(text, most)).toMatchObject({
      message:
        "Not yet. Your number is less than 1\u00a0% too big. Rounded up, it passes the limit: round what is the most downwards, or write three figures.",
    });
  expect(markAnswer("620 pF", most)).not.toMatchObject({message: expect.stringContaining("Rounded up")});
});

test("one value alone is said to be alone", () => {
  const bought: NumericExercise = {id: "z", unit: "F", answer: 3.9e-9, tolerance: 0.001, slips: []};
  for (const text of ["3.9 nF", "3n9", "3n9 F", "0.0039 µF"])
    expect(markAnswer(text, bought)).toMatchObject({status: "right", accepted: "3.9\u00a0nF alone"});
});

// 7.0222 Hz less 0.3 % is 7.0011 Hz, which prints as 7 Hz.
const narrow: NumericExercise = {id: "n", unit: "Hz", answer: 7.0222, tolerance: 0.003, slips: []};

test.each(["7 Hz", "7.0 Hz", "7.00 Hz", "7.04 Hz"])("%s counts, as the printed interval says", (text) => {
  expect(markAnswer(text, narrow)).toMatchObject({status: "right", accepted: "7\u00a0Hz to 7.04\u00a0Hz"});
});

test("more figures are printed where three would leave the answer out", () => {
  const {low, high, printed} = acceptedInterval({...most, atMost: false, tolerance: 1e-4});
  expect(printed).toEqual(["608.8\u00a0pF", "609\u00a0pF"]);
  expect([low, high]).toEqual([608.8e-12, 609e-12]);
});

test("a number rounded too far, and one close by, are told so and not that they fit nothing", () => {
  // 1026.1 Hz in one figure is 1000 Hz, 2.5 % below.
  const kilo: NumericExercise = {id: "k", unit: "Hz", answer: 1026.1, tolerance: 0.02, slips: []};
  expect(markAnswer("1 kHz", kilo)).toMatchObject({
    message: "Not yet. Your number is 3\u00a0% too small. It was rounded too far: write three figures.",
  });
  expect(markAnswer("1.06 kHz", kilo)).toMatchObject({
    message:
      "Not yet. Your number is 3\u00a0% too big. So near, look for a number that was rounded on the way, or misread.",
  });
});

const decibels: NumericExercise = {id: "d", unit: "dB", answer: 11.26, tolerance: 0.15, absolute: true, slips: []};

test.each([
  ["11 dB", "Your number is 0.3\u00a0dB too small. It was rounded too far: write three figures."],
  ["-11.3 dB", "The amount is right; its sign is the other one."],
  ["-5 dB", "The sign is the other one. I don't recognise the slip. Compare your steps with those of the hints."],
  ["18.1 dB", "Your number is too big. I don't recognise the slip. Compare your steps with those of the hints."],
])("%s where 11.3 dB are right: %s", (text, said) =>
  expect(markAnswer(text, decibels)).toMatchObject({message: `Not yet. ${said}`}),
);

test("a sign that is a known slip is named once", () => {
  const loss = {...decibels, slips: [{cause: "the sign is the other one: a loss was asked for", gives: -11.26}]};
  expect(markAnswer("-11.3 dB", loss)).toMatchObject({
    message: "Not yet. It looks as if the sign is the other one: a loss was asked for.",
  });
});
