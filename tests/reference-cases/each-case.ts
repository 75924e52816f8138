import {expect, test} from "vitest";
import {casesFolder, homeFolder, type ReferenceCase} from "./cases.ts";

/**
 * A test a case. Where there is no case of the kind, one test says so: it fails in the project's own folder, which holds every kind,
 * and passes in a folder of somebody else's that holds only some.
 */
export function eachCase(what: string, cases: readonly ReferenceCase[], check: (given: ReferenceCase) => void): void {
  for (const given of cases) test(`${what}: ${given.id}`, () => check(given));
  if (cases.length === 0) test(`${what}: no case of this kind`, () => expect(casesFolder).not.toBe(homeFolder));
}
