import {expect, test} from "vitest";
import {levelSweep} from "../../../src/engine/analysis/level-sweep.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
import {readCircuit} from "../../reference-cases/read-case.ts";

// Source: tests/reference/independent/04_periodic_steady_state.json: the same circuit at 20, 100 and 300 mV.
const cases = casesOfKind("periodic_steady_state").filter(({id}) => id.startsWith("tran.direct.220Hz"));

test("gain and distortion over level are those of the independent cycles", () => {
  const [first] = cases;
  if (first === undefined) throw new Error("no case of a direct drive at 220 Hz");
  const levels = Float64Array.from(cases, ({source}) => Number(source?.["amplitude_peak"]));
  const {gainDb, distortion} = levelSweep(readCircuit(first), "out", 220, levels);
  expect(cases).toHaveLength(3);
  cases.forEach(({expected}, k) => {
    const {magnitude} = expected["out"] as {magnitude: readonly number[]};
    const wanted = 20 * Math.log10((magnitude[0] ?? NaN) / (levels[k] ?? NaN));
    expect(Math.abs((gainDb[k] ?? NaN) - wanted)).toBeLessThan(1e-4); // 2e-6 of the peak and some, in decibels
    const harmonics = Math.hypot(...magnitude.slice(1)) / (magnitude[0] ?? NaN);
    expect(Math.abs((distortion[k] ?? NaN) - harmonics)).toBeLessThan(1e-5); // likewise, over twenty harmonics
  });
  expect(() => levelSweep(readCircuit(first), "out", 220, Float64Array.of(0))).toThrow(
    "levels must be positive, got 0 V at index 0",
  );
});
