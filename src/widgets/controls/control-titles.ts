import type {Control} from "../../engine/course/course-circuit.ts";

/** Short names of controls for a row of buttons: the designator where that is enough, else what it turns. */
export function controlTitles(controls: readonly Control[]): ReadonlyMap<string, string> {
  return new Map(controls.map(({name, ref, label}) => [name, name === ref && /^[A-Z]+\d+$/.test(ref) ? ref : label]));
}
