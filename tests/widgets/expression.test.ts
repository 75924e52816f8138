import {expect, test} from "vitest";
import {evaluateExpression} from "../../src/widgets/exercise/evaluate-expression.ts";
import {isExpression} from "../../src/widgets/exercise/expression.ts";

// 1/(2π · 3.3 kΩ · 68 nF), worked out by hand: 709.2 Hz.
test.each([
  "1/(2*pi*3.3k*68n) Hz",
  "1/(2π·3.3k·68n) Hz",
  "1/(2*pi*3,3k*68n)Hz",
  "1 / (2 * pi * 3300 * 68e-9) Hz",
  "0.001/(2*pi*3.3k*68n) kHz",
])("%s is worked out", (text) => {
  expect(isExpression(text)).toBe(true);
  const read = evaluateExpression(text, "Hz");
  expect(read).toMatchObject({ok: true, unitGiven: true});
  expect(read.ok && read.value).toBeCloseTo(709.25, 1);
});

test("square root and logarithm are known", () => {
  expect(evaluateExpression("sqrt(2.6*870p) s", "s")).toMatchObject({ok: true, value: Math.sqrt(2.6 * 870e-12)});
  expect(evaluateExpression("10*log10(5) dB", "dB")).toMatchObject({ok: true, value: 10 * Math.log10(5)});
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

test.each(["68 nF", "-3 dB", "4k7", "1e-9 F", "0,33 µF"])("%s is a plain value", (text) => {
  expect(isExpression(text)).toBe(false);
});
