import type {BenchSetting} from "../../engine/course/course-circuit.ts";

const keys = new WeakMap<BenchSetting, string>();

/** A name that two settings of one circuit share: the phrase level, which is no part of the circuit, is left out. */
export function benchKey(setting: BenchSetting): string {
  const known = keys.get(setting);
  if (known !== undefined) return known;
  const places = Object.entries(setting.settings)
    .filter(([name]) => name !== "phraseLevel")
    .sort(([a], [b]) => (a < b ? -1 : 1));
  const key = `${setting.lesson}:${places.map((place) => place.join("=")).join(",")}`;
  keys.set(setting, key);
  return key;
}
