import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {floorDb, harmonicsPlot, harmonicsSummary, levelDb} from "../../../src/widgets/harmonics/harmonics-plot.ts";
import {drawn} from "../../../src/widgets/sketch/sketch.ts";

const {document} = parseHTML("<html><body></body></html>");
const wide = {width: 480, height: 200, compact: false};
const compact = {width: 176, height: 124, compact: true};

/** Peaks of a square wave of ±1 V by its Fourier series: 4/(πn) for odd n, none for even; worked from the series alone. */
const square = Float64Array.from({length: 21}, (_, n) => (n % 2 === 1 ? 4 / (Math.PI * n) : 0));

test("a square wave's third harmonic stands at a third of its fundamental, and its even ones at the floor", () => {
  expect(levelDb(square, 1)).toBe(0);
  expect(levelDb(square, 3)).toBeCloseTo(20 * Math.log10(1 / 3), 10); // one division and one logarithm of doubles
  expect(levelDb(square, 2)).toBe(floorDb);
  expect(levelDb(new Float64Array(21), 3)).toBe(floorDb);
});

test("its summary names the third and no even one", () => {
  expect(harmonicsSummary(square).replaceAll("\u00a0", " ")).toBe(
    "Against the fundamental: strongest even harmonic, none above −80 dB; strongest odd, the 3rd at −9.5 dB.",
  );
  expect(harmonicsSummary(new Float64Array(21))).toBe("There is no fundamental.");
});

test.each([wide, compact])("every harmonic has a bar inside the drawing, $width px wide", (size) => {
  const root = drawn(harmonicsPlot(square, {before: square, size}), document);
  const bars = [...root.querySelectorAll("rect")];
  expect(bars).toHaveLength(20);
  for (const bar of bars) {
    const at = (name: string) => Number(bar.getAttribute(name));
    expect(at("height")).toBeGreaterThanOrEqual(0);
    expect(at("x")).toBeGreaterThanOrEqual(0);
    expect(at("x") + at("width")).toBeLessThanOrEqual(size.width);
    expect(at("y") + at("height")).toBeLessThanOrEqual(size.height);
  }
  expect(root.querySelectorAll("line.before")).toHaveLength(20);
});

test("even and odd bars differ in their fill pattern, not in colour alone", () => {
  const both = Float64Array.from({length: 21}, (_, n) => 1 / Math.max(1, n));
  const root = drawn(harmonicsPlot(both, {size: wide}), document);
  expect(root.querySelectorAll("rect.even")).toHaveLength(10);
  expect(root.querySelectorAll("rect.odd")).toHaveLength(10);
  const hatches = Array.from(root.querySelectorAll("path.hatch"), (each) => each.getAttribute("d") ?? "");
  expect(hatches).toHaveLength(10);
  for (const d of hatches) expect(d.split("M").length).toBeGreaterThan(3);
});
