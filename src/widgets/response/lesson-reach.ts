import {startSetting, turnedControls} from "../../engine/course/course-circuit.ts";
import {responseOf, type ResponseCurve} from "../bench-state/curves.ts";

const known = new Map<number, readonly ResponseCurve[]>();

/**
 * Curves that the axis of a lesson has room for from the start: those of its gain control or of C1 at both stops, where the
 * lesson turns it. An axis that grew on the way would make a curve sink that the reader turns up, or stand still while it
 * sinks. Other controls change a curve's shape more than its height; the axis follows them.
 */
export function lessonReach(lesson: number): readonly ResponseCurve[] {
  const found = known.get(lesson) ?? reachOf(lesson);
  known.set(lesson, found);
  return found;
}

function reachOf(lesson: number): readonly ResponseCurve[] {
  const start = startSetting(lesson);
  return turnedControls(lesson)
    .filter(({name}) => name === "RV1" || name === "C1")
    .flatMap(({name, values, start: place}) =>
      [values[0], values.at(-1)].map((stop = place) =>
        responseOf({...start, settings: {...start.settings, [name]: stop}}),
      ),
    );
}
