import type {Control} from "../../engine/course/course-circuit.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";

/** How a place of a control is written: "33 nF", "half way", "in". */
export function placeText(control: Control, value: number): string {
  if (control.choices) return control.choices[value] ?? String(value);
  if (control.kind === "rotation") return rotationText(value);
  return formatQuantity(value, control.unit);
}

/** How it is spoken: "33 nanofarads". */
export function placeSpoken(control: Control, value: number): string {
  if (control.choices || control.kind === "rotation") return placeText(control, value);
  return spokenQuantity(value, control.unit);
}

/** Rotation in words at the places that have one, else in hundredths of the turn. */
export function rotationText(position: number): string {
  if (position === 0) return "fully down";
  if (position === 1) return "full up";
  if (position === 0.5) return "half way";
  return formatQuantity(100 * position, "%");
}

/** Where a control stood in 'before', undefined where that bench has none of its part; empty where it stands there still. */
export function wasText(control: Control, was: number | undefined, value: number): string {
  if (was === undefined) return `before has no ${[control.ref, ...(control.also ?? [])].join(" or ")}`;
  return was === value ? "" : `was ${placeText(control, was)}`;
}

/** Index of the stop that a value stands on, by ratio for parts and by distance otherwise. */
export function stopOf({values}: Control, value: number): number {
  let best = 0;
  for (let k = 1; k < values.length; k++) {
    if (Math.abs((values[k] ?? 0) - value) < Math.abs((values[best] ?? 0) - value)) best = k;
  }
  return best;
}

/** Stops that a Page key passes: a decade of preferred values, a tenth of a turn, else a quarter of the row. */
export function pageStops(control: Control): number {
  if (control.kind === "rotation") return 10;
  if (control.kind !== "part value") return Math.max(1, Math.round(control.values.length / 4));
  const [first = 1] = control.values;
  const decade = control.values.findIndex((value) => value >= first * 9.999);
  return decade > 0 ? decade : control.values.length - 1;
}

/**
 * The stop that a press of − or + leads to from `stop`: the next one; of a rotation the next twentieth of the turn, since its
 * hundredths would take fifty presses to the middle. Arrow keys go by single stops.
 */
export function pressedStop(control: Control, stop: number, direction: -1 | 1): number {
  if (control.kind !== "rotation") return stop + direction;
  return 5 * (direction > 0 ? Math.floor(stop / 5) + 1 : Math.ceil(stop / 5) - 1);
}

/** What such a press is called: "one step up". */
export const pressText = (control: Control, direction: "down" | "up"): string =>
  control.kind === "rotation" ? `a twentieth of the turn ${direction}` : `one step ${direction}`;
