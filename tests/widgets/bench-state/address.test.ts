import fc from "fast-check";
import {expect, test} from "vitest";
import {beforeSetting, controlsOf, lessonCount, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {addressOf, nearestStop, readAddress} from "../../../src/widgets/bench-state/address.ts";
import {noteNamed, notes, startNote} from "../../../src/widgets/bench-state/notes.ts";

test("the start of a lesson needs no address", () => {
  for (let lesson = 1; lesson <= lessonCount; lesson++) {
    expect(addressOf(startSetting(lesson), beforeSetting(lesson))).toBe("");
  }
});

test("any bench comes back from its address, now and before", () => {
  const anyBench = fc
    .integer({min: 1, max: lessonCount})
    .chain((lesson) =>
      fc.tuple(
        fc.constant(lesson),
        fc.record(Object.fromEntries(controlsOf(lesson).map(({name, values}) => [name, fc.constantFrom(...values)]))),
        fc.record(Object.fromEntries(controlsOf(lesson).map(({name, values}) => [name, fc.constantFrom(...values)]))),
      ),
    );
  fc.assert(
    fc.property(anyBench, ([lesson, settings, heldSettings]) => {
      const now = {lesson, settings};
      const held = {lesson, settings: heldSettings};
      const read = readAddress(addressOf(now, held), lesson);
      expect(read.notUnderstood).toEqual([]);
      expect(read.now).toEqual(now);
      expect(read.held.lesson).toBe(lesson);
      for (const {name, start} of controlsOf(lesson)) {
        expect(read.held.settings[name] ?? start).toBe(heldSettings[name]);
      }
    }),
  );
});

test("an address is plain text: prefixes without signs, one entry for each difference", () => {
  const now = {lesson: 2, settings: {...startSetting(2).settings, C1: 470e-12, cable: 10}};
  expect(addressOf(now, {lesson: 2, settings: {C1: 33e-9, R2: 470e3}})).toBe(
    "cable=10&C1=470p&before=2&before.R2=470k",
  );
});

test("garbage is left out and told, and the rest stands", () => {
  const read = readAddress("#C1=470p&C9=1n&R1=xyz&before=99&=&before.R1=1k&%E0%A4%A", 2);
  expect(read.now.settings["C1"]).toBe(470e-12);
  expect(read.now.settings["R1"]).toBe(4.7e3);
  expect(read.held).toEqual(beforeSetting(2));
  expect(read.notUnderstood).toEqual(["C9=1n", "R1=xyz", "before=99", "=", "%E0%A4%A", "before.R1=1k"]);
});

test("an address may name the exercise to do with its setting", () => {
  const read = readAddress("#C1=470p&exercise=2.1", 2);
  expect(read.exercise).toBe("2.1");
  expect(read.now.settings["C1"]).toBe(470e-12);
  expect(read.notUnderstood).toEqual([]);
  expect(readAddress("#exercise=two", 2)).toMatchObject({notUnderstood: ["exercise=two"]});
});

test("no text whatever throws, and every control stands on one of its stops", () => {
  fc.assert(
    fc.property(fc.string(), fc.constantFrom("C1=", "R2=", "before.cable=", "guitarVolume=", ""), (text, head) => {
      const {now} = readAddress(`${head}${text}`, 2);
      for (const {name, values} of controlsOf(2)) expect(values).toContain(now.settings[name]);
    }),
  );
});

test("a value between two stops goes to the nearer one by ratio", () => {
  const C1 = controlsOf(2).find(({name}) => name === "C1");
  if (!C1) throw new Error("lesson 2 turns C1");
  // √(22·33) = 26.94: above it 33 is nearer by ratio, but 27 lies between in E12; √(27·33) = 29.85.
  expect(nearestStop(C1, 29.8e-9)).toBe(27e-9);
  expect(nearestStop(C1, 29.9e-9)).toBe(33e-9);
});

test("a value between two stops is told with the stop that stands for it", () => {
  const told = (hash: string, lesson = 2) =>
    readAddress(hash, lesson).between.map((sentence) => sentence.replaceAll("\u00a0", " "));
  expect(told("C1=5.1n")).toEqual(["C1 at 5.1 nF is asked for; the nearest that can be bought here is 4.7 nF."]);
  expect(told("before=2&before.R2=500k")).toEqual([
    "For ‘before’: R2 at 500 kΩ is asked for; the nearest that can be bought here is 470 kΩ.",
  ]);
  for (const plain of ["C1=4.7n", "C1=4n7", "C1=0.0047u", "guitarVolume=0.37", "amplifier=0"])
    expect(told(plain), plain).toEqual([]);
  expect(readAddress("amplifier=0.6", 2).notUnderstood).toEqual(["amplifier=0.6"]);
});

test("the note of the figures goes with the bench, and one that is not on the list is told", () => {
  const [now, held] = [startSetting(10), beforeSetting(10)];
  for (const note of notes) expect(readAddress(addressOf(now, held, note), 10).note).toEqual(note);
  expect(addressOf(now, held, startNote)).toBe("");
  expect(addressOf(now, held, noteNamed("1k"))).toBe("note=1k");
  const read = readAddress("note=H&phraseLevel=1", 10);
  expect(read.notUnderstood).toEqual(["note=H"]);
  expect(read.note).toEqual(startNote);
  expect(read.now.settings["phraseLevel"]).toBe(1);
});
