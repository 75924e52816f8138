import {test} from "vitest";
import {allowedHours, hearingAllowance, recommendedLimit} from "../../../src/engine/sound/exposure.ts";
import {published} from "../../reference-cases/published.ts";

// NIOSH publication 98-126, WHO and ITU: each row names its own.
const facts = published("14_safety");
const minutes = facts.rows("niosh.").filter(({id}) => /^niosh\.\d+$/.test(id));

test.each(minutes)("the time allowed at a level: $id", ({id}) => {
  facts.check(id, allowedHours(Number(id.slice(6))) * 60);
});

test("NIOSH prints a quarter of an hour at 100 dB(A)", () => {
  facts.check("niosh.published100", allowedHours(100) * 60);
});

test("the limits are the published ones", () => {
  const {levelDbA, hours, exchangeDb} = recommendedLimit;
  facts.check("niosh.rel", [levelDbA, hours, exchangeDb]);
  facts.check("who.mode1", [hearingAllowance.levelDbA, hearingAllowance.hoursPerWeek]);
});
