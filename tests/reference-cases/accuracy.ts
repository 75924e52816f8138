import {mkdirSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {afterAll} from "vitest";
import {allCases} from "./cases.ts";

/** One outside check: what was asked, who says so, and how near we come. */
export type AccuracyRow = Readonly<{
  id: string;
  source: string;
  expected: number | string;
  ours: number | string;
  difference: number;
  tolerance: number;
}>;

/**
 * Collects the rows of one test file. When the file's tests are over they are written as `<name>.json` into the folder
 * ACCURACY_FOLDER, if that is set; those of a case are printed if REFERENCE_CASES is: who runs cases of their own wants to see each.
 */
export function accuracyTable(name: string): (row: AccuracyRow) => void {
  const rows: AccuracyRow[] = [];
  afterAll(() => {
    if (process.env["REFERENCE_CASES"]) {
      const ids = allCases().map(({id}) => id);
      for (const {id, difference, tolerance} of rows)
        if (ids.some((each) => id.startsWith(each)))
          process.stdout.write(`${id}: error ${difference}, tolerance ${tolerance}\n`);
    }
    const folder = process.env["ACCURACY_FOLDER"];
    if (folder === undefined || folder === "") return;
    mkdirSync(folder, {recursive: true});
    writeFileSync(join(folder, `${name}.json`), `${JSON.stringify(rows, undefined, 1)}\n`);
  });
  return (row) => void rows.push(row);
}
