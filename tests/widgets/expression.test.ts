import fc from "fast-check";
import {expect, test} from "vitest";
import {unitFacts, type Unit} from "../../src/engine/quantities/unit.ts";
import {evaluateExpression} from "../../src/widgets/exercise/evaluate-expression.ts";
import {formulaExample} from "../../src/widgets/exercise/formula-example.ts";
import {isExpression} from "../../src/widgets/exercise/expression.ts";

// 1/(2π · 3.3 kΩ · 68 nF), worked out by hand: 709.2 Hz.
test.each([
  "1/(2*pi*3.3k*68n) Hz",
  "1/(2π·3.3k·68n) Hz",
  "1/(2*pi*3,3k*68n)Hz",
  "1 / (2 * pi * 3300 * 68e-9) Hz",
  "0.001/(2*pi*3.3k*68n) kHz",
])("%s is worked out", (text) => {
  expect(isExpression(text, "Hz")).toBe(true);
  const read = evaluateExpression(text, "Hz");
  expect(read).toMatchObject({ok: true, unitGiven: true});
  expect(read.ok && read.value).toBeCloseTo(709.25, 1);
});

test("square root and logarithm are known", () => {
  expect(evaluateExpression("sqrt(2.6*870p) s", "s")).toMatchObject({ok: true, value: Math.sqrt(2.6 * 870e-12)});
  expect(evaluateExpression("10*log10(5) dB", "dB")).toMatchObject({ok: true, value: 10 * Math.log10(5)});
});

// 10·log10(1 + 2²) = 10·log10(5) = 6.98970 by hand.
test.each(["10 · log(1 + 2²) dB", "10*log(5) dB", "10 log10(5) dB", "10·lg(1 + 2^2) dB", "10·log₁₀(5) dB"])(
  "%s is read as the course prints it",
  (text) => {
    expect(isExpression(text, "dB")).toBe(true);
    expect(evaluateExpression(text, "dB")).toMatchObject({ok: true, value: expect.closeTo(6.9897, 4)});
  },
);

// 1/(2π·√(2.6 H · 970 pF)) = 3169.2 Hz by hand.
test.each(["1/(2π√(2.6·970p)) Hz", "1/(2pi sqrt(2.6*970p)) Hz", "1 / (2π · √(2.6 H · 970 pF)) Hz"])(
  "%s multiplies what stands side by side",
  (text) => expect(evaluateExpression(text, "Hz")).toMatchObject({ok: true, value: expect.closeTo(3169.2, 1)}),
);

test("a raised power is taken, and one below a line without brackets is asked about", () => {
  expect(evaluateExpression("1/((2π·4 kHz)²·2.6) F", "F")).toMatchObject({value: expect.closeTo(608.9e-12, 13)});
  expect(evaluateExpression("1/2π sqrt(4) Hz", "Hz")).toEqual({
    ok: false,
    message: "“/2π” can be read in two ways. Put what is below the line in brackets, as in 1/(2*pi*…).",
  });
});

test("ten or twenty times a logarithm is in decibels, and what is none is asked for its unit", () => {
  for (const [text, value] of [
    ["10*log(1+0.25)", 0.9691],
    ["10 · log(1 + (1/2)²)", 0.9691],
    ["20*log(8)", 18.06],
  ] as const)
    expect(evaluateExpression(text, "dB")).toMatchObject({ok: true, unitGiven: true, value: expect.closeTo(value, 2)});
  for (const text of ["log(1.25)", "18.1-6.8"])
    expect(evaluateExpression(text, "dB")).toMatchObject({unitGiven: false});
  expect(evaluateExpression("10*log(1+0.25)", "Hz")).toMatchObject({unitGiven: false});
});

test("a formula without its unit says so", () => {
  expect(evaluateExpression("1/(2*pi*3.3k*68n)", "Hz")).toMatchObject({ok: true, unitGiven: false});
});

test.each(["alert(1)", "1/(2*pi", "constructor(1)", "1/0 Hz"])("%s is not worked out, with a sentence", (text) => {
  const read = evaluateExpression(text, "Hz");
  expect(read.ok ? "" : read.message).toMatch(
    /^I can't work out “.+”\. Write it with \* for times and brackets in pairs/,
  );
});

test.each<[string, Unit]>([
  ["68 nF", "F"],
  ["-3 dB", "dB"],
  ["\u22123 dB", "dB"],
  ["4k7", "Ω"],
  ["1e-9 F", "F"],
  ["1e-9", "F"],
  ["0,33 µF", "F"],
  ["3,145 Hz", "Hz"],
  ["709 nF", "Hz"],
  ["nonsense", "Hz"],
])("%s is a plain value, or none", (text, unit) => {
  expect(isExpression(text, unit)).toBe(false);
});

// Each worked out by hand. 600 mV / 51 = 11.765 mV; 1/(2π · 3.3 kΩ · 47 nF) = 1026.1 Hz; √(2.6 H · 970 pF) = 50.22 µs.
test.each<[string, Unit, number]>([
  ["900 mV + 600 mV", "V", 1.5],
  ["900m+600m V", "V", 1.5],
  ["900m + 600mV", "V", 1.5],
  ["900 + 600 mV", "V", 1.5],
  ["0.9+0.6 V", "V", 1.5],
  ["(900 mV + 600 mV)", "V", 1.5],
  ["(0.9 + 0.6) V", "V", 1.5],
  ["600 mV/51", "V", 0.6 / 51],
  ["600m/51 V", "V", 0.6 / 51],
  ["600 mV · 3.3 kΩ / 165 kΩ", "V", 0.012],
  ["18.1 - 6.8 dB", "dB", 11.3],
  ["18.1-6.8 dB", "dB", 11.3],
  ["18.1 dB - 6.8 dB", "dB", 11.3],
  ["18.1 dB \u2212 6.8 dB", "dB", 11.3],
  ["18.1 \u2013 6.8 dB", "dB", 11.3],
  ["20*log(800 mV/100 mV) - 20*log(1.4 V/640 mV) dB", "dB", 20 * Math.log10(8) - 20 * Math.log10(1.4 / 0.64)],
  ["20*log(8) dB - 6.8 dB", "dB", 20 * Math.log10(8) - 6.8],
  ["3.3k+330k Hz", "Hz", 333.3e3],
  ["1/(2*pi*3.3kΩ*47nF)", "Hz", 1026.13],
  ["1/(2*pi*3.3kΩ*47nF) Hz", "Hz", 1026.13],
  ["1/(2*pi*3.3kΩ*47nF) kHz", "Hz", 1026.13],
  ["1/(2*pi*3.3k*47nF) Hz", "Hz", 1026.13],
  ["1/(2 x pi x 3k3 x 47n) Hz", "Hz", 1026.13],
  ["1/(2π·3.3 kΩ·47 nF)", "Hz", 1026.13],
  ["1/(2π√(2.6 H · 970 pF))", "Hz", 3169.2],
  ["√(2.6 H · 970 pF)", "s", 50.22e-6],
  ["9 V : 6", "V", 1.5],
  ["20/4 Hz", "Hz", 5],
  ["1 / 20 ms", "Hz", 50],
  ["330k/3.3k + 1", "", 101],
  ["1 + 330 kΩ/3.3 kΩ", "", 101],
])("%s in %s is %d", (text, unit, value) => {
  expect(isExpression(text, unit)).toBe(true);
  const read = evaluateExpression(text, unit);
  expect(read).toMatchObject({ok: true, unitGiven: true});
  expect(read.ok && read.value / value).toBeCloseTo(1, 4);
});

test.each<[string, Unit, string]>([
  [
    "1/(2*pi*R3*C3) Hz",
    "Hz",
    "I don’t know “R3”: names of parts and other words are not read. Write the value in its place",
  ],
  ["1/(2*pi*(R1+R2)*4.7n) Hz", "Hz", "I don’t know “R1”"],
  ["3.3kΩ*47nF", "Hz", "That works out to 155.1\u00a0µs, and a frequency is asked for"],
  ["900 mV + 0.6", "V", "The units in it don’t make a voltage. Write a unit at every number or one behind the whole"],
  ["1/(2*pi*3,300*47n) Hz", "Hz", "“3,300” can be read as 3.300 or as 3300."],
  ["1 1/2 V", "V", "“1 1/2 V” can be read in two ways. Write it as a decimal number"],
  ["1/6.283 155 µs", "Hz", "“/6.283 155 µs” can be read in two ways. Put what is below the line in brackets"],
  ["600 mV/2 (3)", "V", "“/2(” can be read in two ways."],
])("%s in %s is not worked out: %s", (text, unit, message) => {
  expect(evaluateExpression(text, unit)).toEqual({ok: false, message: expect.stringContaining(message)});
});

test.each(Object.keys(unitFacts) as Unit[])("the example of a formula in %s is one", (unit) => {
  expect(isExpression(formulaExample(unit), unit)).toBe(true);
  expect(evaluateExpression(formulaExample(unit), unit)).toMatchObject({ok: true, unitGiven: true});
});

test("signs, brackets and powers work out as in the formula that was written", () => {
  const whole = fc.integer({min: 1, max: 9});
  fc.assert(
    fc.property(whole, whole, whole, whole, (a, b, c, d) => {
      const read = evaluateExpression(`${a} mV*(${b} - ${c}^2)/${d} + ${a} mV`, "V");
      expect(read.ok && read.value).toBeCloseTo((a * (b - c ** 2)) / d / 1e3 + a / 1e3, 9);
    }),
  );
});
