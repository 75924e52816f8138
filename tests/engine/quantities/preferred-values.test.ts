import {expect, test} from "vitest";
import {
  nearestPreferred,
  preferredValues,
  seriesDecade,
  type Series,
} from "../../../src/engine/quantities/preferred-values.ts";
import {parseQuantity} from "../../../src/engine/quantities/parse-quantity.ts";
import {published} from "../../reference-cases/published.ts";

// Source: tests/reference/published/01_preferred_numbers.json, after IEC 60063:2015.
const facts = published("01_preferred_numbers");
const names = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const satisfies readonly Series[];
type Near = Readonly<{value: number; floor: number; ceil: number; nearest_ratio: number}>;
const near = facts.table("nearest_value_tests") as Readonly<Record<Series, readonly Near[]>>;

test.each(names)("%s holds the published values", (series) => {
  facts.check(`eseries.${series}`, seriesDecade(series));
  facts.check(`eseries.count.${series}`, seriesDecade(series).length);
});

test.each(names)("the nearest value of %s is found by ratio, and its neighbours", (series) => {
  for (const {value, floor, ceil, nearest_ratio: nearest} of near[series]) {
    // Relative 1e-12: the table's values went through binary arithmetic of their own.
    expect(nearestPreferred(value, series) / nearest, `${value}`).toBeCloseTo(1, 12);
    const around = preferredValues(series, value / 10, value * 10);
    const below = around.findLast((each) => each <= value * (1 + 1e-12)) ?? NaN;
    const above = around.find((each) => each >= value * (1 - 1e-12)) ?? NaN;
    expect(below / floor, `below ${value}`).toBeCloseTo(1, 12);
    expect(above / ceil, `above ${value}`).toBeCloseTo(1, 12);
  }
});

test("series nest as published", () => {
  const within = (a: Series, b: Series) => seriesDecade(a).every((each) => seriesDecade(b).includes(each));
  expect(within("E3", "E6") && within("E6", "E12") && within("E12", "E24")).toBe(true);
  expect(within("E48", "E96") && within("E96", "E192")).toBe(true);
  expect([270, 330, 390].some((each) => seriesDecade("E192").includes(each))).toBe(false);
  facts.check(
    "eseries.nesting",
    [270, 120, 470, 330].map((each) => seriesDecade("E192").includes(each)),
  );
});

test("the course's values are in the series that the table says", () => {
  const members = facts.table("course_overdrive_membership") as Readonly<Record<string, readonly Series[]>>;
  const units = {R: "Ω", C: "F", L: "H", p: "Ω", l: "F", m: "Ω"} as const;
  for (const [name, wanted] of Object.entries(members)) {
    const text = name.split(" ").slice(name.startsWith("min") ? 1 : -1)[0] ?? "";
    const read = parseQuantity(text.replace("H", ""), units[name[0] as keyof typeof units]);
    if (!read.ok) throw new Error(`${name} is not read`);
    const within = names.filter((series) => Math.abs(nearestPreferred(read.value, series) / read.value - 1) < 1e-9);
    expect(within, name).toEqual(wanted);
  }
});

test("the rounded geometric step differs from E192 in one place and from E24 in eight", () => {
  const strays = (series: Series, first: number) =>
    seriesDecade(series).flatMap((standard, index) => {
      const formula = Math.round(first * 10 ** (index / seriesDecade(series).length));
      return formula === standard ? [] : [{index, formula, standard}];
    });
  expect(strays("E192", 100)).toEqual(facts.expected("eseries.formula192"));
  expect(strays("E24", 10)).toEqual(facts.expected("eseries.formula24"));
});

test("both ends count, and limits out of order throw", () => {
  expect(preferredValues("E6", 3.3e-8, 1e-7)).toEqual([3.3e-8, 4.7e-8, 6.8e-8, 1e-7]);
  expect(() => preferredValues("E6", 10, 1)).toThrow("limits must be positive and ascending, got 10 and 1");
});
