import {controlsOf, type BenchSetting} from "../../engine/course/course-circuit.ts";

/** Whether every control stands alike on two benches of one lesson; one that is not named stands at its start. */
export function sameBench(a: BenchSetting, b: BenchSetting): boolean {
  if (a.lesson !== b.lesson) return false;
  return controlsOf(a.lesson).every(({name, start}) => (a.settings[name] ?? start) === (b.settings[name] ?? start));
}
