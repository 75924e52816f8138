import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {drawn, moved, path, shape, type Sketch} from "../../../src/widgets/sketch/sketch.ts";

const {document} = parseHTML("<html><body></body></html>");
const sketch = (high: number, changed: Partial<Sketch> = {}): Sketch => ({
  width: 100,
  height: 50,
  name: `a line to ${high}`,
  axes: "0 to 10",
  fixed: [shape("text", {x: 3}, "0")],
  moving: [
    path(
      [
        [0, 0],
        [10, high],
      ],
      "now",
    ),
    shape("circle", {cx: 10, cy: high}, String(high)),
  ],
  ...changed,
});

test("a moved drawing is what would have been drawn anew, in the same elements", () => {
  const root = drawn(sketch(4), document);
  const line = root.querySelector("path");
  expect(moved(root, sketch(7))).toBe(true);
  expect(root.querySelector("path")).toBe(line);
  expect(root.outerHTML).toBe(drawn(sketch(7), document).outerHTML);
});

test("a drawing with other axes, or other shapes, is left as it was", () => {
  const root = drawn(sketch(4), document);
  const before = root.outerHTML;
  expect(moved(root, sketch(7, {axes: "0 to 20"}))).toBe(false);
  expect(moved(root, sketch(7, {moving: []}))).toBe(false);
  expect(moved(root, sketch(7, {moving: [shape("rect", {}), shape("circle", {})]}))).toBe(false);
  expect(root.outerHTML).toBe(before);
});
