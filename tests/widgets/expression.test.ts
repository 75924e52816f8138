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

// 10·log10(1 + 2²) = 10·log10(5) = 6.98970 by hand.
test.each(["10 · log(1 + 2²) dB", "10*log(5) dB", "10 log10(5) dB", "10·lg(1 + 2^2) dB", "10·log₁₀(5) dB"])(
  "%s is read as the course prints it",
  (text) => {
    expect(isExpression(text)).toBe(true);
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
