import {expect, test} from "vitest";
import {allCases, casesOfKind, driveOf, knownExpectations, knownKinds} from "./cases.ts";

test("every case in the folder is of a kind that some test checks", () => {
  const unknown = allCases().filter(({analysis}) => !knownKinds.some((kind) => kind === analysis.kind));
  expect(unknown.map(({id, analysis}) => `${id}: ${analysis.kind}`)).toEqual([]);
});

test("no two cases share an id", () => {
  const ids = allCases().map(({id}) => id);
  expect(new Set(ids).size).toBe(ids.length);
});

test("nothing that a case expects is of a name that no test knows", () => {
  for (const kind of knownKinds) {
    for (const {id, expected} of casesOfKind(kind)) {
      const unknown = Object.keys(expected).filter((name) => !knownExpectations[kind].test(name));
      expect(unknown, id).toEqual([]);
    }
  }
});

test("every settled cycle is driven by one sine or two", () => {
  for (const each of casesOfKind("periodic_steady_state")) expect(driveOf(each).form).toMatch(/sine/);
  const odd = {id: "odd", source: {expression: "0.1*tri(2*pi*220*t)"}} as unknown as Parameters<typeof driveOf>[0];
  expect(() => driveOf(odd)).toThrow('odd: the source {"expression":"0.1*tri(2*pi*220*t)"} is of an unknown form');
});
