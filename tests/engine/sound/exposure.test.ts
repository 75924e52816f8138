import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {allowedHours, hearingAllowance, recommendedLimit} from "../../../src/engine/sound/exposure.ts";

type Check = {id: string; expected: number | number[]; source: string};
const {checks} = JSON.parse(readFileSync("tests/reference/published/14_safety.json", "utf8")) as {checks: Check[]};
const minutes = checks.filter(({id}) => /^niosh\.\d+$/.test(id));

test.each(minutes)("the time allowed at a level: $id", ({id, expected}) => {
  // Source: NIOSH publication 98-126, as computed in the reference file; the same closed form, so only rounding differs.
  expect(allowedHours(Number(id.slice(6))) * 60).toBeCloseTo(expected as number, 9);
});

test("NIOSH prints a quarter of an hour at 100 dB(A)", () => {
  expect(allowedHours(100) * 60).toBe(checks.find(({id}) => id === "niosh.published100")?.expected);
});

test("the limits are the published ones", () => {
  const {levelDbA, hours, exchangeDb} = recommendedLimit;
  expect([levelDbA, hours, exchangeDb]).toEqual(checks.find(({id}) => id === "niosh.rel")?.expected);
  expect([hearingAllowance.levelDbA, hearingAllowance.hoursPerWeek]).toEqual(
    checks.find(({id}) => id === "who.mode1")?.expected,
  );
});
