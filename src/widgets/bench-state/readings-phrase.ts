import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "./bench-state.ts";
import {phraseHeadroomDb} from "./phrase.ts";

/** Readings of the whole phrase. Each plays it through the circuit: they follow when the bench rests. */
export const phraseReadings = {
  headroom: ({now}) => headroomText(phraseHeadroomDb(now)),
} satisfies Record<string, (view: BenchView) => string>;

function headroomText(db: number | undefined): string {
  if (db === undefined) return "no op-amp";
  return db > 0 ? formatQuantity(db, "dB", {figures: 2}) : "none";
}
