import {readFileSync} from "node:fs";
import {runInNewContext} from "node:vm";
import {expect, test} from "vitest";
import {readAddress} from "../../../src/widgets/bench-state/address.ts";

const script = readFileSync(new URL("../../../src/widgets/guess/guess-open.js", import.meta.url), "utf8");

/** What the script makes of an address, on a page of lesson 6 whose reader has kept no guess. */
function guessAt(hash: string): string | undefined {
  const dataset: Record<string, string> = {lesson: "6", linked: "C3= R3= before.C3= before=2 note=A exercise=6.1"};
  const page = {currentScript: {parentElement: {dataset}}};
  runInNewContext(script, {document: page, location: {hash}, localStorage: {getItem: () => null}});
  return dataset["guess"];
}

const readable = ["10u", "68n", "0.33u", "0,068%20µF", "330nF", "1e-9", "33n", "3n3", ".1u", "10%CE%BCF", "470pF"];
const unreadable = ["banana", "1banana", "n", "", "10u10u", "%", "%E0%A4%A", "1.2.3u", "u10x"];

test("an address whose value can be read sets the bench, and nobody is asked first", () => {
  for (const text of readable) {
    expect(readAddress(`#C3=${text}`, 6).notUnderstood, text).toEqual([]);
    expect(guessAt(`#C3=${text}`), text).toBe("kept");
    expect(guessAt(`#before.C3=${text}`), text).toBe("kept");
  }
  for (const entry of ["before=2", "note=A", "exercise=6.1"]) expect(guessAt(`#${entry}`), entry).toBe("kept");
});

test("an address whose value cannot be read sets nothing, and the guess stands", () => {
  for (const text of unreadable) {
    expect(readAddress(`#C3=${text}`, 6).notUnderstood, text).toHaveLength(1);
    expect(guessAt(`#C3=${text}`), text).toBe("open");
  }
  for (const entry of ["", "before=99", "note=x", "exercise=9.9", "C9=10u", "before="])
    expect(guessAt(`#${entry}`), entry).toBe("open");
  // One good entry is enough.
  expect(guessAt("#C3=banana&R3=1k")).toBe("kept");
});
