import type {Control} from "../../engine/course/course-circuit.ts";

/** What a row of buttons has room for, where the label says more than a name. */
const shorter: Readonly<Record<string, string>> = {
  cable: "cable",
  guitarVolume: "volume",
  amplifierOhms: "amplifier input",
  diodesFitted: "diodes in/out",
};

/** Short names of controls: the designator where that is enough, else what it turns. */
export function controlTitles(controls: readonly Control[]): ReadonlyMap<string, string> {
  return new Map(
    controls.map(({name, ref, label}) => [
      name,
      name === ref && /^[A-Z]+\d+$/.test(ref) ? ref : (shorter[name] ?? label),
    ]),
  );
}
