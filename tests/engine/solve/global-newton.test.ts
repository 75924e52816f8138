import {expect, test} from "vitest";
import {solveGlobally, type Equations} from "../../../src/engine/solve/global-newton.ts";

/** One equation f(x) = 0, and how its terms add up. */
const one = (f: (x: number) => number, slope: (x: number) => number, terms: (x: number) => number): Equations => ({
  size: 1,
  residual: ([x = Number.NaN], into) => void (into[0] = f(x)),
  slopes: ([x = Number.NaN], into) => void (into[0] = slope(x)),
  terms: ([x = Number.NaN], into) => void (into[0] = terms(x)),
});

const cubic = one(
  (x) => x ** 3 - 2 * x + 2,
  (x) => 3 * x ** 2 - 2,
  (x) => Math.abs(x ** 3) + Math.abs(2 * x) + 2,
);

test.each([0, 1, 0.8164965809277259, 2, -5, 1e6])(
  "x³ − 2x + 2, which holds Newton's method in its valley, is solved from %d",
  (start) => {
    const x = Float64Array.of(start);
    expect(solveGlobally(cubic, x)).toBe(true);
    // The real root by Cardano's formula.
    const inner = Math.sqrt(1 - 8 / 27);
    expect(x[0]).toBeCloseTo(Math.cbrt(-1 + inner) + Math.cbrt(-1 - inner), 14);
  },
);

test("an equation without a solution says so, and leaves its start alone", () => {
  const never = one(
    (x) => x ** 2 + 1,
    (x) => 2 * x,
    (x) => x ** 2 + 1,
  );
  const x = Float64Array.of(3);
  expect(solveGlobally(never, x)).toBe(false);
  expect(x[0]).toBe(3);
});
