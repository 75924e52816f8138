import fc from "fast-check";
import {expect, test} from "vitest";
import {colourBands, readColours} from "../../../src/engine/quantities/colour-code.ts";
import {readDigitCode} from "../../../src/engine/quantities/digit-code.ts";
import {markingCode, readMarkingCode, type Marked} from "../../../src/engine/quantities/marking-code.ts";
import {toleranceOf} from "../../../src/engine/quantities/tolerance-letter.ts";
import {published} from "../../reference-cases/published.ts";

// Source of every expected value: tests/reference/published/02_marking_codes.json, after IEC 60062:2016 (each row says
// whether it was looked up or given from memory).
const facts = published("02_marking_codes");
const idsOf = (start: string) => facts.rows(start).map(({id}) => id);
const last = (id: string) => id.split(".").at(-1) ?? "";
const codes: readonly (readonly [string, Marked])[] = [
  ...idsOf("rkm.r.").map((id) => [id, "resistance"] as const),
  ...idsOf("rkm.c.").map((id) => [id, "capacitance"] as const),
];

function valueOf(read: ReturnType<typeof readMarkingCode>): number {
  if (!read.ok) throw new Error(read.message);
  return read.value;
}

test.each(codes)("%s is read as published", (id, kind) => {
  facts.check(id, valueOf(readMarkingCode(last(id), kind)));
});

// Two spellings of one value, of which one is written: no leading 0, two figures at least, whole numbers before fractions.
const aliases = "0R22 1K 1M n10 n33 n47 µ10 µ47 u47 1u0 4u7 m10".split(" ");

test.each(codes.filter(([id]) => !aliases.includes(last(id))))("%s is written as it was read", (id, kind) => {
  expect(markingCode(valueOf(readMarkingCode(last(id), kind)), kind)).toBe(last(id));
});

test("a second spelling is written as the first", () => {
  const again = (code: string, kind: Marked) => markingCode(valueOf(readMarkingCode(code, kind)), kind);
  expect([again("0R22", "resistance"), again("1K", "resistance"), again("n47", "capacitance")]).toEqual([
    "R22",
    "1K0",
    "470p",
  ]);
});

test("tolerance letters mean what the standard says", () => {
  const both = (id: string) => Object.entries(facts.expected(id) as Record<string, number>);
  for (const id of idsOf("rkm.tol.percent.")) {
    for (const [letter, size] of both(id)) {
      expect(toleranceOf(letter), letter).toEqual({low: -size, high: size, of: "percent"});
    }
  }
  for (const id of idsOf("rkm.tol.asym.")) {
    for (const [letter, sides] of Object.entries(facts.expected(id) as Record<string, number[]>)) {
      expect(toleranceOf(letter), letter).toEqual({low: sides[0], high: sides[1], of: "percent"});
    }
  }
  for (const id of idsOf("rkm.tol.smallC")) {
    // "1e-12" and 1 × 1e-12 may differ in the last bit.
    for (const [letter, size] of both(id)) expect(toleranceOf(letter, true)?.high).toBeCloseTo(size * 1e-12, 20);
  }
});

test.each([...idsOf("rkm.full."), "rkm.ambiguity.K"])("%s carries its tolerance", (id) => {
  const code = id === "rkm.ambiguity.K" ? "4K7K" : last(id);
  const read = readMarkingCode(code, code.includes("n") ? "capacitance" : "resistance");
  const wanted = facts.expected(id) as {value: number; tolerance_percent: number};
  expect(valueOf(read)).toBe(wanted.value);
  expect(read).toMatchObject({tolerance: {high: wanted.tolerance_percent, of: "percent"}});
});

test("capitals tell mega from milli", () => {
  const wanted = facts.expected("rkm.ambiguity.case") as Record<string, number>;
  expect(valueOf(readMarkingCode("4M7", "resistance"))).toBe(wanted["4M7 (R)"]);
  expect(valueOf(readMarkingCode("4m7", "capacitance"))).toBe(wanted["4m7 (C)"]);
  expect(readMarkingCode("4M7", "capacitance")).toEqual({
    ok: false,
    message: "“4M7” is no code for a capacitance. Write one such as 4n7 or 68n.",
  });
});

test.each([...idsOf("cap3."), ...idsOf("res.smd.")])("the digits of %s are read", (id) => {
  const kind = id.startsWith("cap3") ? "capacitance" : "resistance";
  const read = last(id) === "4R7" ? readMarkingCode("4R7", kind) : readDigitCode(last(id), kind);
  facts.check(id, valueOf(read));
});

test("the colours are those of the standard", () => {
  const table = (key: "digit" | "power" | "tolerancePercent") =>
    Object.fromEntries(colourBands.flatMap((each) => (each[key] === undefined ? [] : [[each.colour, each[key]]])));
  expect(table("digit")).toEqual(facts.expected("colour.digit"));
  expect(table("power")).toEqual(facts.expected("colour.mult"));
  expect(table("tolerancePercent")).toEqual(facts.expected("colour.tol"));
});

test.each(facts.rows("colour.bands."))("bands are read: $id", ({id}) => {
  const wanted = facts.expected(id) as {value: number; tolerance_percent: number};
  const read = readColours(facts.what(id).split(" ")[0]?.split("-") ?? []);
  expect(read).toEqual({ok: true, ohms: wanted.value, tolerancePercent: wanted.tolerance_percent});
});

test("a colour out of place gets a sentence", () => {
  expect(readColours(["gold", "red", "red", "gold"])).toEqual({ok: false, message: "“gold” can't be band 1 of 4."});
  expect(readColours(["red"])).toEqual({ok: false, message: "A resistor has four or five bands; 1 are given."});
});

test("every value of four figures survives being written and read", () => {
  const kinds = [
    ["resistance", -3, 14],
    ["capacitance", -12, -1],
  ] as const;
  for (const [kind, low, high] of kinds) {
    fc.assert(
      fc.property(fc.integer({min: 1000, max: 9999}), fc.integer({min: low, max: high}), (figures, power) => {
        const value = Number(`${figures}e${power - 3}`);
        expect(valueOf(readMarkingCode(markingCode(value, kind), kind))).toBe(value); // exact: the same decimal digits
      }),
    );
  }
});

test("garbage gets a sentence, never a throw", () => {
  fc.assert(
    fc.property(fc.string({unit: "grapheme"}), fc.constantFrom<Marked>("resistance", "capacitance"), (text, kind) => {
      for (const read of [readMarkingCode(text, kind), readDigitCode(text, kind)]) {
        if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
        else expect(read.message).toMatch(/\.$/);
      }
      expect(readColours([text, text, text, text])).toHaveProperty("ok");
    }),
  );
});

test("what has no code throws and says why", () => {
  expect(() => markingCode(-1, "resistance")).toThrow("a resistance must be positive, got -1 Ω");
  expect(() => markingCode(5e15, "resistance")).toThrow("a resistance of 5000000000000000 Ω is beyond the letters");
});
