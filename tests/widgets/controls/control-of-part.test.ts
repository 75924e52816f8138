import {expect, test} from "vitest";
import {controlsOf, turnedControls} from "../../../src/engine/course/course-circuit.ts";
import {controlOfPart} from "../../../src/widgets/controls/control-of-part.ts";

const of = (lesson: number, ref: string, shownName?: string) => {
  const [turned, all] = [turnedControls(lesson), controlsOf(lesson)];
  const shown = all.find(({name}) => name === shownName);
  return controlOfPart(ref, {shown, turned, all})?.name;
};

test("D2 in hand shows what lifts both diodes where the lesson is about that, and its own count where it is about counts", () => {
  expect(of(10, "D1")).toBe("diodesFitted");
  expect(of(10, "D2")).toBe("diodesFitted");
  expect(of(11, "D1")).toBe("diodes");
  expect(of(11, "D2")).toBe("D2InSeries");
});

test("a control in sight stays there while the part in hand is one that it changes", () => {
  expect(of(10, "D2", "D2InSeries")).toBe("D2InSeries");
  expect(of(10, "D2", "RV1")).toBe("diodesFitted");
  expect(of(10, "C3", "diodesFitted")).toBe("C3");
});

test("a part that nothing changes has no control", () => {
  expect(of(10, "U7")).toBeUndefined();
});
