/** Id on the page of an exercise such as "10.2". */
export const exercisePlace = (id: string): string => `exercise-${id.replace(".", "-")}`;

/** The entry of an address that names an exercise beside a setting of the bench: "exercise=10.2". */
export const exerciseEntry = (id: string): string => `exercise=${id}`;

/** The exercise that the part of an address behind `#` names: "10.2" of "exercise-10-2" and of "C3=10u&exercise=10.2". */
export function exerciseOfAddress(hash: string): string | undefined {
  const [, alone, beside] = /^exercise-(\d+-\d+)$|(?:^|&)exercise=(\d+\.\d+)(?:&|$)/.exec(hash) ?? [];
  return alone?.replace("-", ".") ?? beside;
}

/** The element that the part of an address behind `#` leads to: one with that id, or the exercise it names beside a setting. */
export function placeOfAddress(hash: string): HTMLElement | null {
  if (hash === "") return null;
  const id = exerciseOfAddress(hash);
  return document.getElementById(id === undefined ? hash : exercisePlace(id));
}
