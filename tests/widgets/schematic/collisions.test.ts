import {readFileSync} from "node:fs";
import {describe, expect, test} from "vitest";
import {startSetting} from "../../../src/engine/course/course-circuit.ts";
import {gridPx} from "../../../src/widgets/schematic/drawing.ts";
import {drawingOf} from "../../../src/widgets/schematic/drawings/drawings.ts";
import {touches} from "../../../src/widgets/schematic/geometry.ts";
import {boundaryBox, nameSizePx, valueSizePx} from "../../../src/widgets/schematic/labels.ts";
import {type Named, occupiedSpace} from "../../../src/widgets/schematic/occupied-space.ts";
import {schematicView} from "../../../src/widgets/schematic/schematic-view.ts";
import type {SchematicView} from "../../../src/widgets/schematic/view.ts";
import {lessons, settingsOf, sizes} from "./every-view.ts";

// Voltages as wide as any that a supply of 18 V can put there.
const volts = new Map(["vcc", "ref", "p", "o"].map((node) => [node, "17.4\u00a0V"]));

/** Whether a word is a name that its op-amp's triangle is meant to hold. */
const isInside = (word: Named, stroke: Named, {drawing}: SchematicView) =>
  drawing.parts.some(
    ({ref, label}) => label.side === "inside" && stroke.what === ref && word.what === `label of ${ref}`,
  );

/** Every place where words meet a stroke, other words, the frame of a housing or the edge of the drawing. */
function collisions(view: SchematicView): readonly string[] {
  const {strokes, words} = occupiedSpace(view);
  const [width = 0, height = 0] = view.drawing.size.map((steps) => steps * gridPx);
  const meets = (a: Named, b: Named, gapPx: number) =>
    touches(a.box, b.box, gapPx) ? [`${a.what} meets ${b.what}`] : [];
  return words.flatMap((word, index) => [
    ...strokes.filter((stroke) => !isInside(word, stroke, view)).flatMap((stroke) => meets(word, stroke, 1)),
    // Lines of one label stand closer than labels of two.
    ...words.slice(index + 1).flatMap((other) => meets(word, other, word.what === other.what ? 0 : 3)),
    ...(view.drawing.boundaries ?? []).flatMap((boundary) => {
      const {left, top, right, bottom} = boundaryBox(boundary);
      const frame = [
        {left, right: left, top, bottom},
        {left: right, right, top, bottom},
        {left, right, top, bottom: top},
        {left, right, top: bottom, bottom},
      ];
      return frame.flatMap((box) => meets(word, {what: `frame of ${boundary.title}`, box}, 2));
    }),
    ...(word.box.left < 0 || word.box.top < 0 || word.box.right > width || word.box.bottom > height
      ? [`${word.what} leaves the drawing`]
      : []),
  ]);
}

// The guitar by itself stands in lesson 1.
const drawn = [
  ...lessons.flatMap((lesson) => sizes.map((size) => ({lesson, size}))),
  {lesson: 1, size: "guitar"} as const,
];

describe.each(drawn)("in lesson $lesson, $size", ({lesson, size}) => {
  test("no value of any control makes labels collide", () => {
    const found = new Set(settingsOf(lesson).flatMap((setting) => collisions(schematicView(setting, {size, volts}))));
    expect([...found]).toEqual([]);
  });

  test("no two parts can be pressed at one place", () => {
    const {strokes} = occupiedSpace(schematicView(startSetting(lesson), {size}));
    const bodies = strokes.filter(({what}) =>
      drawingOf(startSetting(lesson), size).parts.some(({ref}) => ref === what),
    );
    const pairs = bodies.flatMap((a, index) => bodies.slice(index + 1).map((b) => [a, b] as const));
    expect(pairs.filter(([a, b]) => touches(a.box, b.box)).map(([a, b]) => `${a.what} on ${b.what}`)).toEqual([]);
  });
});

test("labels stay at 12 px or more at the narrowest width each drawing is shown at", () => {
  const css = readFileSync(new URL("../../../src/widgets/schematic/schematic.css", import.meta.url), "utf8");
  const wideFrom = Number(/@container \(min-width: (\d+)px\)/.exec(css)?.[1]);
  const compactFrom = Number(/\.compact \{\s*min-width: (\d+)px/.exec(css)?.[1]);
  const smallest = Math.min(nameSizePx, valueSizePx);
  for (const lesson of lessons) {
    const [wide] = drawingOf(startSetting(lesson), "wide").size;
    const [compact] = drawingOf(startSetting(lesson), "compact").size;
    expect((smallest * wideFrom) / (wide * gridPx)).toBeGreaterThanOrEqual(12);
    expect((smallest * compactFrom) / (compact * gridPx)).toBeGreaterThanOrEqual(12);
  }
  const sizesInCss = [...css.matchAll(/font: \d+ ([\d.]+)px/g)].map((match) => Number(match[1]));
  expect(sizesInCss.toSorted()).toEqual([nameSizePx, valueSizePx]);
});
