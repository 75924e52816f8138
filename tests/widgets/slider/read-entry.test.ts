import {expect, test} from "vitest";
import {controlsOf, courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {readEntry} from "../../../src/widgets/slider/read-entry.ts";

/** Reads a text for a control of lesson 6 as the lesson starts it. */
function read(text: string, name = "RV1") {
  const control = controlsOf(6).find((each) => each.name === name);
  if (!control) throw new Error(`lesson 6 has no ${name}`);
  const part = courseCircuit(startSetting(6)).circuit.parts.find(({ref}) => ref === control.ref);
  return readEntry(text, control, part);
}

test.each([
  ["35 %", 0.35, ""],
  ["35%", 0.35, ""],
  ["35", 0.35, "I read this as 35\u00a0% of the turn."],
  ["0.35", 0.35, "I read this as 35\u00a0% of the turn."],
  ["0,35", 0.35, "I read this as 35\u00a0% of the turn."],
  ["35.4 %", 0.35, "I read this as 35.4\u00a0%. The nearest hundredth of the turn is 35\u00a0%."],
  ["1", 1, "I read this as the whole turn. A hundredth of it is written 1\u00a0%."],
  ["1 %", 0.01, ""],
  ["half way", 0.5, ""],
  ["Full up", 1, ""],
  ["fully down", 0, ""],
  ["all the way down", 0, ""],
])("a rotation typed as “%s” is read", (text, value, note) => {
  expect(read(text)).toEqual({ok: true, value, note});
});

test("a resistance sets the rotation that comes nearest to it: 50 Ω at the stop, then 330 kΩ by a linear taper", () => {
  // 46.2 kΩ at 14 %, 49.5 kΩ at 15 %, each with the 50 Ω of the stop.
  expect(read("47k")).toEqual({
    ok: true,
    value: 0.14,
    note: "I read this as 47\u00a0kΩ. The nearest here is 46.3\u00a0kΩ, at 14\u00a0%.",
  });
  expect(read("50 ohms")).toMatchObject({ok: true, value: 0});
});

test.each([
  [
    "lots",
    "I can't read a rotation in “lots”. Write one such as 35\u00a0%, or the resistance you want, such as 47\u00a0kΩ.",
  ],
  ["140 %", "I read this as 140\u00a0%, and the control turns from 0 to 100\u00a0%. Write one such as 35\u00a0%."],
  ["-5", "I read this as \u22125\u00a0%, and the control turns from 0 to 100\u00a0%. Write one such as 35\u00a0%."],
  [
    "470k",
    "I read this as 470\u00a0kΩ, and RV1 goes from 50\u00a0Ω to 330\u00a0kΩ. Write a resistance between them, or a rotation such as 35\u00a0%.",
  ],
])("“%s” gets one sentence that says what to write", (text, message) => {
  expect(read(text)).toEqual({ok: false, message});
});

test("a divider has no one resistance to ask for", () => {
  expect(read("47k", "guitarVolume")).toEqual({
    ok: false,
    message:
      "This control divides its track in two, and no single resistance sets it. Write a rotation such as 35\u00a0%.",
  });
});

test("a part snaps by ratio to what can be bought", () => {
  expect(read("0,05 µF", "C3")).toEqual({
    ok: true,
    value: 47e-9,
    note: "I read this as 50\u00a0nF. The nearest that can be bought here is 47\u00a0nF.",
  });
});

test("a bare number that no stop comes near is asked about, with the unit that is most likely meant", () => {
  expect(read("4.7", "C1")).toEqual({ok: false, message: "4.7 what? Write it with its unit, such as 4.7\u00a0nF."});
  expect(read("0.47", "R2")).toEqual({ok: false, message: "0.47 what? Write it with its unit, such as 0.47\u00a0MΩ."});
  expect(read("470000", "R2")).toMatchObject({ok: true, value: 470e3});
  expect(read("33e-9", "C1")).toMatchObject({ok: true, value: 33e-9});
  expect(read("10", "cable")).toMatchObject({ok: true, value: 10});
});
