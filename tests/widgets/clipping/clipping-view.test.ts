import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {clippingFigure} from "../../../src/widgets/clipping/clipping-view.ts";
import {niceAbove} from "../../../src/widgets/clipping/cycle-plots.ts";

const {document} = parseHTML("<html><body></body></html>");
const figureAt = (settings = {}) => {
  const start = startSetting(10);
  return clippingFigure(
    {now: {lesson: 10, settings: {...start.settings, ...settings}}, held: beforeSetting(10)},
    document,
  );
};
const heightOf = (drawing: SVGSVGElement | undefined, curve: string) => {
  const path = drawing?.querySelector(`path.${curve}`)?.getAttribute("d") ?? "";
  const ys = [...path.matchAll(/[ML]\S+ (\S+?)(?=L|$)/g)].map(([, y]) => Number(y));
  return Math.max(...ys) - Math.min(...ys);
};

test("the output is drawn lower with the diodes than before, and like before when they are lifted out", () => {
  const [fitted, lifted] = [figureAt()?.drawings["wave"], figureAt({diodesFitted: 0})?.drawings["wave"]];
  expect(heightOf(fitted, "now")).toBeLessThan(0.5 * heightOf(fitted, "before"));
  expect(heightOf(lifted, "now")).toBeCloseTo(heightOf(lifted, "before"), 6);
});

test("every curve stays inside its drawing at every level", () => {
  for (const phraseLevel of [0.01, 0.1, 1]) {
    for (const name of ["transfer", "wave"]) {
      const drawing = figureAt({phraseLevel})?.drawings[name];
      for (const path of drawing?.querySelectorAll("path") ?? []) {
        const numbers = [...(path.getAttribute("d") ?? "").matchAll(/[\d.-]+/g)].map(Number);
        expect(numbers.length).toBeGreaterThan(3);
        expect(Math.min(...numbers)).toBeGreaterThanOrEqual(0);
        expect(Math.max(...numbers)).toBeLessThanOrEqual(300);
      }
    }
  }
});

test("distortion is told in words, and falls with the level", () => {
  const percent = (level: number) =>
    Number(/fundamental: ([\d.]+)/.exec(figureAt({phraseLevel: level})?.distortion ?? "")?.[1]);
  expect(percent(0.3)).toBeGreaterThan(3 * percent(0.025));
  expect(figureAt({diodesFitted: 0})?.distortion).toContain("less than 0.1");
});

test("the summary says the note, the input, and now beside before", () => {
  const text = figureAt()?.summary.replaceAll("\u00a0", " ");
  expect(text).toMatch(/^At 110 Hz and .+ at the input, the output reaches .+, before .+\. Against the fundamental: /);
});

test("a bench without a gain stage has no figure", () => {
  expect(clippingFigure({now: startSetting(1), held: beforeSetting(1)}, document)).toBeUndefined();
});

test("an axis ends at a round number that is not below its value", () => {
  expect([0, 0.001, 0.0289, 0.3, 2.28, 5.01].map(niceAbove).map((value) => Number(value.toPrecision(6)))).toEqual([
    0.001, 0.001, 0.03, 0.3, 3, 10,
  ]);
});
