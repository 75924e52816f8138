import {onTestFinished} from "vitest";
import type {AccuracyRow} from "./accuracy.ts";

/**
 * A recorder that keeps, of rows named alike but for their numbers ("harmonic 3", "harmonic 5"), the one that used most of its
 * tolerance: a waveform's points fill no table. To be made inside a test; the rows reach the table
 * when that is over, failed or not.
 */
export function worstRows(record: (row: AccuracyRow) => void) {
  const worst = new Map<string, AccuracyRow>();
  const used = ({difference, tolerance}: AccuracyRow) => (Number.isNaN(difference) ? Infinity : difference / tolerance);
  const keep = (group: string, row: AccuracyRow): void => {
    const before = worst.get(group);
    if (before === undefined || used(row) > used(before)) worst.set(group, row);
  };
  onTestFinished(() => worst.forEach((row) => record(row)));
  return {keep};
}
