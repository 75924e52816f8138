import fc from "fast-check";
import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {responseOf} from "../../../src/widgets/bench-state/curves.ts";
import {drawingSizes} from "../../../src/widgets/response/drawing-sizes.ts";
import {decibelSteps, frequencyAt, plotBox, xOf, yOf} from "../../../src/widgets/response/plot-box.ts";

const curves = [1, 2].flatMap((lesson) => [responseOf(startSetting(lesson)), responseOf(beforeSetting(lesson))]);

test("a decade is a third of the axis from 20 Hz to 20 kHz wherever it starts", () => {
  const box = plotBox(curves, drawingSizes.wide);
  const third = (box.right - box.left) / 3; // three decades by definition of the axis
  fc.assert(
    fc.property(fc.double({min: 20, max: 2000, noNaN: true}), (hz) => {
      expect(xOf(box, 10 * hz) - xOf(box, hz)).toBeCloseTo(third, 9); // rounding of the logarithm alone
    }),
  );
});

test("the frequency under a pixel is the one drawn there", () => {
  const box = plotBox(curves, drawingSizes.compact);
  fc.assert(
    fc.property(fc.double({min: 20, max: 20_000, noNaN: true}), (hz) => {
      expect(frequencyAt(box, xOf(box, hz)) / hz).toBeCloseTo(1, 9); // rounding of the logarithm alone
    }),
  );
  expect(frequencyAt(box, -1e4)).toBe(20);
  expect(frequencyAt(box, 1e4)).toBeCloseTo(20_000, 6);
});

test("the decibel axis holds 0 dB and every point of the curves, at equal steps", () => {
  for (const size of Object.values(drawingSizes)) {
    const box = plotBox(curves, size);
    const steps = decibelSteps(box);
    expect(steps).toContain(0);
    expect(steps.length).toBeLessThanOrEqual(size.compact ? 8 : 10);
    const drawn = curves.flatMap(({gainDb}) => Array.from(gainDb, (db) => yOf(box, db)));
    expect(Math.min(...drawn)).toBeGreaterThanOrEqual(box.top);
    expect(Math.max(...drawn)).toBeLessThanOrEqual(box.bottom);
  }
});
