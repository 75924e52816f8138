import {expect, test} from "vitest";
import {stageIcon} from "../../../src/widgets/schematic/stage-icon.ts";
import {lessons} from "./every-view.ts";

test("every lesson has an icon of its own, drawn inside its square of 24", () => {
  const icons = lessons.map(stageIcon);
  expect(new Set(icons).size).toBe(lessons.length);
  for (const icon of icons)
    for (const [, number] of icon.matchAll(/(-?[\d.]+)/g)) {
      expect(Number(number)).toBeGreaterThanOrEqual(0);
      expect(Number(number)).toBeLessThanOrEqual(24);
    }
});

test("a lesson that is not there has no icon", () =>
  expect(() => stageIcon(22)).toThrow("there are icons for lessons 1 to 21, got 22"));
