import {startSetting, turnedControls} from "../../engine/course/course-circuit.ts";
import {responseOf, type ResponseCurve} from "../bench-state/curves.ts";

const known = new Map<number, readonly ResponseCurve[]>();

/**
 * Curves that the axis of a lesson has room for from the start: those of its gain control at both stops, where the lesson turns
 * it. An axis that grew on the way would make a curve sink that the reader turns up. Other controls change a curve's shape
 * more than its height; the axis follows them.
 */
export function lessonReach(lesson: number): readonly ResponseCurve[] {
  const found = known.get(lesson) ?? reachOf(lesson);
  known.set(lesson, found);
  return found;
}

function reachOf(lesson: number): readonly ResponseCurve[] {
  const gain = turnedControls(lesson).find(({name}) => name === "RV1");
  if (!gain) return [];
  const start = startSetting(lesson);
  const stops = [gain.values[0], gain.values.at(-1)];
  return stops.map((RV1 = gain.start) => responseOf({...start, settings: {...start.settings, RV1}}));
}
