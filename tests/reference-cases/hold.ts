import {expect} from "vitest";
import {accuracyTable} from "./accuracy.ts";

/** Holds a number to what the source says, within `tolerance` in the number's own unit, and notes it in the accuracy table. */
export function holder(
  table: string,
  source: string,
): (id: string, ours: number, expected: number, tolerance: number) => void {
  const record = accuracyTable(table);
  return (id, ours, expected, tolerance) => {
    const difference = Math.abs(ours - expected);
    record({id, source, expected, ours, difference, tolerance});
    expect(difference, `${id}: expected ${expected}, got ${ours}`).toBeLessThanOrEqual(tolerance);
  };
}
