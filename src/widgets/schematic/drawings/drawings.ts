import type {BenchSetting} from "../../../engine/course/course-circuit.ts";
import type {Drawing, DrawingSize} from "../drawing.ts";
import {lesson1, lesson2} from "./before-the-first-part.ts";
import {type Pair, together} from "./fragment.ts";
import {lesson4, lesson5, lesson6, lesson7, lesson8, lesson9, lesson10, lesson12} from "./gain.ts";
import {guitar} from "./guitar-and-amplifier.ts";
import {lesson3} from "./half-supply.ts";
import {lesson13} from "./hard-clipping.ts";
import {lesson14} from "./tone.ts";
import {wholePedal} from "./whole-pedal.ts";

const toReference = lesson5("reference");
const toGround = lesson5("ground");

const pairs: readonly Pair[] = [
  lesson1,
  lesson2,
  lesson3,
  lesson4,
  toReference,
  lesson6,
  lesson7,
  lesson8,
  lesson9,
  lesson10,
  lesson10,
  lesson12,
  lesson13,
  lesson14,
  lesson14,
  ...Array.from({length: 6}, () => wholePedal),
];

/** The guitar alone, to stand in a passage that speaks of its parts; it belongs to no lesson's fragment. */
const guitarAlone = together("The guitar", [8.75, 8.75], guitar);

/**
 * The drawing of a lesson's fragment, wide or compact, or that of the guitar, as the switches of the setting want it.
 *
 * @throws {RangeError} if the course has no such lesson
 */
export function drawingOf({lesson, settings}: BenchSetting, size: DrawingSize): Drawing {
  const pair = lesson === 5 && settings["leg"] === 1 ? toGround : pairs[lesson - 1];
  if (!pair) throw new RangeError(`there is no drawing for lesson ${lesson}`);
  return size === "guitar" ? guitarAlone : pair[size];
}
