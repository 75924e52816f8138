import fc from "fast-check";
import {expect, test} from "vitest";
import {formatQuantity, spokenQuantity} from "../../../src/engine/quantities/format-quantity.ts";
import {parseQuantity} from "../../../src/engine/quantities/parse-quantity.ts";
import {prefixes, unitFacts, type Unit} from "../../../src/engine/quantities/unit.ts";

const units = Object.keys(unitFacts) as Unit[];

test.each(units.filter((unit) => unitFacts[unit].prefixed))(
  "every value in %s survives being written and read",
  (unit) => {
    fc.assert(
      fc.property(
        fc.integer({min: 100, max: 999}),
        fc.integer({min: -15, max: 14}),
        fc.boolean(),
        (figures, power, minus) => {
          const value = Number(`${minus ? "-" : ""}${figures}e${power - 2}`);
          const read = parseQuantity(formatQuantity(value, unit), unit);
          // Exact: three figures written are the same three figures read.
          expect(read).toMatchObject({ok: true, value, unitGiven: true});
        },
      ),
    );
  },
);

test.each(units.filter((unit) => !unitFacts[unit].prefixed))("a plain value in “%s” survives", (unit) => {
  fc.assert(
    fc.property(fc.integer({min: -999, max: 999}), (tenths) => {
      const value = tenths / 10;
      const read = parseQuantity(formatQuantity(value, unit), unit);
      expect(read.ok && read.value).toBeCloseTo(value, 9); // one decimal is within what every unit prints
    }),
  );
});

test.each(prefixes)("$exponent is read with its prefix “$symbol”, joined or apart", ({symbol, exponent}) => {
  for (const unit of units.filter((each) => unitFacts[each].prefixed)) {
    for (const text of [`4.7${symbol}${unit}`, `4,7 ${symbol}${unit}`, `4.7\u00a0${symbol}${unit}`]) {
      expect(parseQuantity(text, unit), text).toMatchObject({ok: true, value: Number(`4.7e${exponent}`)});
    }
  }
});

test("garbage gets a sentence, never a throw", () => {
  fc.assert(
    fc.property(
      fc.oneof(fc.string({unit: "grapheme"}), fc.string({unit: fc.constantFrom(..."0123456789.,-+eEkKmMµnpRΩF ")})),
      fc.constantFrom(...units),
      (text, unit) => {
        const read = parseQuantity(text, unit);
        if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
        else expect(read.message).toMatch(/\.$/);
      },
    ),
    {numRuns: 1000},
  );
});

test("what is wrong is named", () => {
  expect(parseQuantity("68 nF", "Ω")).toEqual({
    ok: false,
    message: "“nF” belongs to a capacitance. Write a resistance, such as 4.7 kΩ or 4k7.",
  });
});

test.each<[string, Unit, boolean]>([
  ["4k7", "Ω", true],
  ["3n9", "F", true],
  ["3n9 F", "F", true],
  ["3.9n", "F", false],
  ["4k7", "Hz", false],
])(
  "%s for a value in %s: its unit is known is %s, as IEC 60062 marks resistors and capacitors",
  (text, unit, unitGiven) => expect(parseQuantity(text, unit)).toMatchObject({ok: true, unitGiven}),
);

test("values are spoken in whole words", () => {
  expect([
    spokenQuantity(68e-9, "F"),
    spokenQuantity(4700, "Ω"),
    spokenQuantity(1e6, "Ω"),
    spokenQuantity(-3, "dB"),
  ]).toEqual(["68 nanofarads", "4.7 kilohms", "1 megohm", "minus 3 decibels"]);
});
