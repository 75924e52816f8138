import {expect, test} from "vitest";
import {controlsOf, lessonCount, type Control} from "../../../src/engine/course/course-circuit.ts";
import {
  pageStops,
  placeSpoken,
  placeText,
  pressedStop,
  pressText,
  stopOf,
  wasText,
} from "../../../src/widgets/slider/control-text.ts";
import {ticksOf} from "../../../src/widgets/slider/ticks.ts";

const control = (lesson: number, name: string): Control => {
  const found = controlsOf(lesson).find((each) => each.name === name);
  if (!found) throw new Error(`lesson ${lesson} has no ${name}`);
  return found;
};

test("a place is written with its unit and spoken in words", () => {
  expect(placeText(control(2, "C1"), 330e-9)).toBe("330\u00a0nF");
  expect(placeSpoken(control(2, "C1"), 330e-9)).toBe("330 nanofarads");
  expect(placeText(control(1, "guitarVolume"), 0.5)).toBe("half way");
});

test("every stop of every control is found again from its value", () => {
  for (let lesson = 1; lesson <= lessonCount; lesson++) {
    for (const each of controlsOf(lesson)) {
      expect(each.values.map((value) => stopOf(each, value))).toEqual(each.values.map((_, k) => k));
    }
  }
});

test("a Page key passes a decade of a part and a tenth of a turn", () => {
  // Twelve values to the decade: IEC 60063, tests/reference/published/01_preferred_numbers.json.
  expect(pageStops(control(2, "C1"))).toBe(12);
  const turn = control(1, "guitarVolume");
  expect(turn.values[pageStops(turn)]).toBeCloseTo(0.1, 9); // a hundredth of a turn to the stop
});

test("ticks run from one end to the other, long ones at the powers of ten", () => {
  const ticks = ticksOf(control(2, "C1"));
  expect([ticks[0]?.place, ticks.at(-1)?.place]).toEqual([0, 1]);
  expect(ticks.filter(({long}) => long)).toHaveLength(5); // 100 pF, 1 nF, 10 nF, 100 nF, 1 µF
});

test("where a control stood before is said where it has moved, and where before has none of it", () => {
  expect(wasText(control(6, "RV1"), 0.5, 0.09)).toBe("was half way");
  expect(wasText(control(6, "RV1"), 0.09, 0.09)).toBe("");
  expect(wasText(control(6, "C3"), undefined, 68e-9)).toBe("before has no C3");
  expect(wasText(control(2, "amplifier"), 1, 0)).toBe("was in");
});

test("a press of − or + goes one stop on, and a twentieth of a turn where there are a hundred stops", () => {
  const [turn, C1] = [control(6, "RV1"), control(2, "C1")];
  expect([pressedStop(turn, 100, -1), pressedStop(turn, 9, 1), pressedStop(turn, 9, -1)]).toEqual([95, 10, 5]);
  expect([pressedStop(C1, 9, 1), pressedStop(C1, 9, -1)]).toEqual([10, 8]);
  expect([pressText(turn, "up"), pressText(C1, "down")]).toEqual(["a twentieth of the turn up", "one step down"]);
});
