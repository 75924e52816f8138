import {readFileSync} from "node:fs";
import {join} from "node:path";
import {expect, test} from "vitest";
import {entryOf, ledger, rowsOf, topics} from "./published-ledger.ts";

test.each(topics)("every row of %s is held by a test, or left out for a reason", (topic) => {
  const rows = rowsOf(topic);
  expect(rows.filter((row) => entryOf(topic, row) === undefined)).toEqual([]);
  for (const entry of ledger[topic] ?? []) {
    // An entry that names nothing says something that is no longer true.
    expect(
      rows.some((row) => entryOf(topic, row) === entry),
      entry.rows.join(", "),
    ).toBe(true);
    if ("outside" in entry) expect(entry.outside.length).toBeGreaterThan(10);
    else {
      // A file that asks for the topic is made to look at all its rows: see published.ts.
      const path = join(import.meta.dirname, "..", entry.heldIn);
      expect(readFileSync(path, "utf8"), entry.heldIn).toContain(`published("${topic}")`);
    }
  }
});

test("the ledger has no topic that is not there", () => {
  expect(Object.keys(ledger).filter((topic) => !topics.includes(topic))).toEqual([]);
});
