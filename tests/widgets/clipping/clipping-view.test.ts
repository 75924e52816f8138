import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {noteNamed, startNote} from "../../../src/widgets/bench-state/notes.ts";
import {clippingFacts, clippingFigure} from "../../../src/widgets/clipping/clipping-view.ts";
import {drawn} from "../../../src/widgets/sketch/sketch.ts";
import {niceAbove} from "../../../src/widgets/clipping/cycle-plots.ts";

const {document} = parseHTML("<html><body></body></html>");
const figureAt = (settings = {}, note = startNote) => {
  const now = {lesson: 10, settings: {...startSetting(10).settings, ...settings}};
  const figure = clippingFigure(clippingFacts({now, held: beforeSetting(10)}, note));
  if (!figure) throw new Error("lesson 10 has a gain stage");
  const drawings = Object.entries(figure.drawings).map(([name, sketch]) => [name, drawn(sketch, document)] as const);
  return {drawings: Object.fromEntries(drawings), sentences: figure.sentences};
};
const heightOf = (drawing: SVGSVGElement | undefined, curve: string) => {
  const path = drawing?.querySelector(`path.${curve}`)?.getAttribute("d") ?? "";
  const ys = [...path.matchAll(/[ML]\S+ (\S+?)(?=L|$)/g)].map(([, y]) => Number(y));
  return Math.max(...ys) - Math.min(...ys);
};

test("the output is drawn lower with the diodes than before, and like before when they are lifted out", () => {
  const [fitted, lifted] = [figureAt().drawings["wave"], figureAt({diodesFitted: 0}).drawings["wave"]];
  expect(heightOf(fitted, "now")).toBeLessThan(0.5 * heightOf(fitted, "before"));
  expect(heightOf(lifted, "now")).toBeCloseTo(heightOf(lifted, "before"), 6);
});

test("every curve stays inside its drawing at every level", () => {
  for (const phraseLevel of [0.01, 0.1, 1]) {
    for (const name of ["transfer", "wave", "peak", "gain"]) {
      const drawing = figureAt({phraseLevel}).drawings[name];
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
    Number(/fundamental: ([\d.]+)/.exec(figureAt({phraseLevel: level}).sentences.distortion)?.[1]);
  expect(percent(0.3)).toBeGreaterThan(3 * percent(0.025));
  expect(figureAt({diodesFitted: 0}).sentences.distortion).toContain("less than 0.1");
});

test("the sentence of the swing says the note, the input, and now beside before", () => {
  const said = (note = startNote) => figureAt({}, note).sentences.swing.replaceAll("\u00a0", " ");
  expect(said()).toMatch(/^At 110 Hz and .+ at the input, the output reaches .+, before .+\.$/);
  expect(said(noteNamed("1k"))).toMatch(/^At 1 kHz /);
});

/** Place of the one mark of its class, in pixels of the drawing. */
const mark = (drawing: SVGSVGElement | undefined, kind: "now" | "before") => {
  const [found, ...others] = drawing?.querySelectorAll(`.mark-${kind}`) ?? [];
  expect(others).toHaveLength(0);
  const [x, y] = kind === "now" ? ["cx", "cy"] : ["x", "y"];
  return {x: Number(found?.getAttribute(x ?? "")), y: Number(found?.getAttribute(y ?? ""))};
};

test("a louder phrase moves both marks to the right, up in peak and down in gain where a diode holds", () => {
  const [soft, loud] = [figureAt({phraseLevel: 0.1}), figureAt({phraseLevel: 1})];
  for (const name of ["peak", "gain"]) {
    for (const kind of ["now", "before"] as const) {
      expect(mark(loud.drawings[name], kind).x).toBeGreaterThan(mark(soft.drawings[name], kind).x + 50);
    }
  }
  expect(mark(loud.drawings["peak"], "now").y).toBeLessThan(mark(soft.drawings["peak"], "now").y);
  expect(mark(loud.drawings["gain"], "now").y).toBeGreaterThan(mark(soft.drawings["gain"], "now").y + 10);
});

test("a mark stands on its curve", () => {
  for (const phraseLevel of [0.025, 0.3]) {
    const drawing = figureAt({phraseLevel}).drawings["peak"];
    const {x, y} = mark(drawing, "now");
    const points = (drawing?.querySelector("path.now")?.getAttribute("d") ?? "").slice(1).split("L");
    const there = points.map((point) => point.split(" ").map(Number)).find(([at]) => Math.abs((at ?? 0) - x) < 0.11);
    expect(there?.[1]).toBeCloseTo(y, 1); // coordinates carry one decimal
  }
});

test("the sentence over level says how much less the output rises than the input, and with no diodes far more", () => {
  const rises = (settings = {}) =>
    [...figureAt(settings).sentences.levels.matchAll(/([\d.]+)\s?dB/g)].map(([, db]) => Number(db));
  const [input = 0, now = 0, before = 0] = rises();
  expect(input).toBeCloseTo(40, 6); // 20·log(1 V / 10 mV), by arithmetic
  expect(now).toBeLessThan(before - 5);
  expect(before).toBeLessThan(input);
  expect(rises({diodesFitted: 0})[1]).toBe(before);
});

test("a bench without a gain stage has no figure", () => {
  const facts = clippingFacts({now: startSetting(1), held: beforeSetting(1)}, startNote);
  expect(clippingFigure(facts)).toBeUndefined();
});

test("an axis ends at a round number that is not below its value", () => {
  expect([0, 0.001, 0.0289, 0.3, 2.28, 5.01].map(niceAbove).map((value) => Number(value.toPrecision(6)))).toEqual([
    0.001, 0.001, 0.03, 0.3, 3, 10,
  ]);
});
