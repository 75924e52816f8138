import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../src/engine/course/course-circuit.ts";
import {formulaMarkup} from "../../src/widgets/formula/formula-markup.ts";

const view = {now: startSetting(2), held: beforeSetting(2)};

test("each step after an equals sign is a formula of its own, so that a line may break there", () => {
  const markup = formulaMarkup(String.raw`f = \frac{1}{2\pi R} = \text{[inputCorner]}`, view);
  expect(markup.match(/<math/g)).toHaveLength(2);
  expect(markup).toContain('data-reading="inputCorner">9.56\u00a0Hz<');
});

test("an unknown reading or a slip in the formula stops the build", () => {
  expect(() => formulaMarkup(String.raw`f = \text{[nothing]}`, view)).toThrow('unknown reading: "nothing"');
  expect(() => formulaMarkup(String.raw`f = \frac{1}`, view)).toThrow();
});
