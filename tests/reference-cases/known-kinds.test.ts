import {expect, test} from "vitest";
import {allCases, knownKinds} from "./cases.ts";

test("every case in the folder is of a kind that some test checks", () => {
  const unknown = allCases().filter(({analysis}) => !knownKinds.some((kind) => kind === analysis.kind));
  expect(unknown.map(({id, analysis}) => `${id}: ${analysis.kind}`)).toEqual([]);
});

test("no two cases share an id", () => {
  const ids = allCases().map(({id}) => id);
  expect(new Set(ids).size).toBe(ids.length);
});
