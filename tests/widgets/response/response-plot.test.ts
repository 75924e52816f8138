import * as Plot from "@observablehq/plot";
import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {responseOf} from "../../../src/widgets/bench-state/curves.ts";
import {drawingSizes} from "../../../src/widgets/response/drawing-sizes.ts";
import {lessonReach} from "../../../src/widgets/response/lesson-reach.ts";
import {responsePlot} from "../../../src/widgets/response/response-plot.ts";

const draw = (C1: number, size: keyof typeof drawingSizes = "wide") => {
  const {document} = parseHTML("<html><body></body></html>");
  const view = {
    now: responseOf({lesson: 2, settings: {C1}}),
    before: responseOf(beforeSetting(2)),
    ...drawingSizes[size],
    name: "Frequency response. Flat.",
  };
  return responsePlot(view, {document: document as unknown as Document, Plot});
};
const texts = (plot: SVGSVGElement) => Array.from(plot.querySelectorAll("text"), (text) => text.textContent);

test("the axis is labelled as the trade does, with the open strings under it", () => {
  const drawn = texts(draw(470e-12));
  for (const label of ["20", "50", "100", "200", "500", "1k", "2k", "5k", "10k", "20k", "Hz", "dB", "0"]) {
    expect(drawn).toContain(label);
  }
  for (const string of ["E", "A", "D", "G", "B", "e"]) expect(drawn).toContain(string);
});

test("the small drawing has fewer labels, its unit, and the outer two strings", () => {
  const drawn = texts(draw(470e-12, "compact"));
  expect(drawn.filter((text) => /^[A-Ge]$/.test(text))).toEqual(["E", "e"]);
  expect(drawn).toContain("10 kHz");
  expect(drawn).not.toContain("50");
  // By hand, as below: the key beside it says that this is now.
  expect(texts(draw(3.9e-9, "compact"))).toContain("corner 80.9\u00a0Hz");
});

test("the corner is named inside the axis, and pointed at when it lies below", () => {
  // 1/(2π(4.7 kΩ + 500 kΩ)·3.9 nF) = 80.9 Hz; with 33 nF 9.56 Hz, below the axis.
  const inside = draw(3.9e-9);
  expect(texts(inside)).toContain("now: corner 80.9\u00a0Hz");
  expect(inside.querySelector('.mark-ring[data-ref="C1"]')).not.toBeNull();
  const below = draw(33e-9);
  expect(texts(below)).toContain("now: corner 9.56\u00a0Hz");
  expect(below.querySelector('.mark-ring[data-ref="C1"]')).toBeNull();
});

test("where the cable beside the load has moved the bend from where the formula puts the corner, the bend is marked", () => {
  // The amplifier's cable has 300 pF: with 100 pF the two divide by four, and bend at 1/(2π · 500 kΩ · 400 pF) = 796 Hz,
  // but for the 11.3 kΩ before C1, which take a hundredth.
  const drawn = draw(100e-12);
  expect(texts(drawn).filter((text) => text?.includes("corner"))).toEqual([]);
  expect(texts(drawn)).toContain("now: bend 788\u00a0Hz");
  expect(drawn.querySelector('.mark-ring[data-ref="C1"]')).not.toBeNull();
});

test("colours are the page's own properties, so that paper and dark need no redraw", () => {
  const markup = draw(470e-12).outerHTML;
  const colours = Array.from(markup.matchAll(/(?:stroke|fill)="([^"]+)"/g), ([, colour]) => colour);
  expect(colours.filter((colour) => colour?.startsWith("#") || colour?.startsWith("rgb"))).toEqual([]);
  expect(colours).toContain("var(--now)");
  expect(colours).toContain("var(--before)");
});

test("it is one picture with one name, and no group inside speaks", () => {
  const plot = draw(33e-9);
  expect(plot.getAttribute("role")).toBe("img");
  expect(plot.getAttribute("aria-label")).toBe("Frequency response. Flat.");
  expect(plot.querySelectorAll("[aria-label]")).toHaveLength(0);
});

test("where the humps of now and before lie on each other one label says it for both", () => {
  const {document} = parseHTML("<html><body></body></html>");
  const labels = (settings: Readonly<Record<string, number>>) => {
    const now = responseOf({lesson: 10, settings: {...startSetting(10).settings, ...settings}});
    const view = {now, before: responseOf(beforeSetting(10)), ...drawingSizes.wide, name: "Frequency response."};
    const plot = responsePlot(view, {document: document as unknown as Document, Plot});
    return Array.from(plot.querySelectorAll(".label-now, .label-before"), ({textContent}) => textContent);
  };
  expect(labels({})).toEqual([expect.stringMatching(/^now and before: hump \d/)]);
  expect(labels({cable: 15})).toEqual([expect.stringMatching(/^now: hump/), expect.stringMatching(/^before: hump/)]);
});

const drawSixth = (RV1: number, C3 = 68e-9) => {
  const {document} = parseHTML("<html><body></body></html>");
  const now = responseOf({lesson: 6, settings: {...startSetting(6).settings, RV1, C3}});
  const view = {now, before: responseOf(beforeSetting(6)), reach: lessonReach(6), ...drawingSizes.wide, name: "Gain."};
  return responsePlot(view, {document: document as unknown as Document, Plot});
};

test("the decibel axis of lesson 6 is one for the whole travel of its gain control", () => {
  const axes = Array.from({length: 21}, (_, k) => drawSixth(k / 20).getAttribute("data-axis"));
  expect(new Set(axes).size).toBe(1);
  // The line of before, which no turn of the control changes, stays where it is.
  const before = [0.05, 0.35, 1].map((RV1) =>
    drawSixth(RV1).querySelector("[stroke='var(--before)'] path, path[stroke='var(--before)']"),
  );
  const [first, ...others] = before.map((line) => line?.getAttribute("d"));
  expect(first).toMatch(/^M/);
  expect(others).toEqual([first, first]);
});

test("both corners of the leg carry their number where both are drawn, and no label is left of one off the axis", () => {
  const labels = (RV1: number, C3?: number) =>
    Array.from(drawSixth(RV1, C3).querySelectorAll(".label-now"), ({textContent}) => textContent);
  // By hand: 1/(2π · 3.3 kΩ · 68 nF) = 709 Hz and 1/(2π · (3.3 + 29.75) kΩ · 68 nF) = 70.8 Hz.
  expect(labels(0.09)).toEqual(["now: corner 709\u00a0Hz", "lower corner 70.8\u00a0Hz"]);
  expect(labels(1)).toEqual(["now: corner 709\u00a0Hz"]);
  // With 1 nF the upper one is at 48.2 kHz, off the axis, and the lower one at 4.82 kHz.
  expect(labels(0.09, 1e-9)).toEqual(["now: lower corner 4.82\u00a0kHz"]);
});

test.each(["wide", "compact"] as const)(
  "a silent bench leaves the %s drawing without a curve, and is called silent",
  (size) => {
    const {document} = parseHTML("<html><body></body></html>");
    const now = responseOf({lesson: 2, settings: {guitarVolume: 0, C1: 470e-12}});
    const view = {now, before: responseOf(beforeSetting(2)), ...drawingSizes[size], name: "Frequency response."};
    const plot = responsePlot(view, {document: document as unknown as Document, Plot});
    expect(texts(plot)).toContain("now: silent");
    expect(plot.outerHTML).not.toMatch(/NaN|Infinity/);
  },
);
