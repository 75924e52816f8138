import {mkdirSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {afterAll} from "vitest";

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
 * Collects the rows of one test file and writes them as `<name>.json` into the folder ACCURACY_FOLDER, if that is set, when
 * the file's tests are over.
 */
export function accuracyTable(name: string): (row: AccuracyRow) => void {
  const rows: AccuracyRow[] = [];
  afterAll(() => {
    const folder = process.env["ACCURACY_FOLDER"];
    if (folder === undefined || folder === "") return;
    mkdirSync(folder, {recursive: true});
    writeFileSync(join(folder, `${name}.json`), `${JSON.stringify(rows, undefined, 1)}\n`);
  });
  return (row) => void rows.push(row);
}
