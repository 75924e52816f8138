import {expect, test} from "vitest";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";

const [rateHz, toneHz] = [48_000, 480];

/** Half the swing in volts of `node` in lesson 10 over the last two periods of a tone that has settled for 100 ms. */
function peakAt(node: string, peakVolts: number, diodesFitted: 0 | 1): number {
  const {circuit} = courseCircuit({lesson: 10, settings: {RV1: 0.5, diodesFitted}});
  const tone = Float64Array.from({length: 5000}, (_, k) => peakVolts * Math.sin((2 * Math.PI * toneHz * k) / rateHz));
  const last = timeResponse(circuit, node, tone, rateHz).slice(-200);
  return (Math.max(...last) - Math.min(...last)) / 2;
}

// Common practice, no published source.
test("anti-parallel silicon diodes across the gain lower the level for the same gain setting", () => {
  expect(peakAt("o", 0.3, 1)).toBeLessThan(0.6 * peakAt("o", 0.3, 0)); // without them the op-amp swings to its rails
});

test("below clipping the gain is nearly as before", () => {
  // 2 mV comes to about 60 mV across the diodes, where silicon passes under a microampere [from memory]: under 1 dB.
  const lossDb = 20 * Math.log10(peakAt("o", 0.002, 0) / peakAt("o", 0.002, 1));
  expect(lossDb).toBeGreaterThanOrEqual(0);
  expect(lossDb).toBeLessThan(1);
});

test("far above clipping the input still rides on top: the gain never falls below one", () => {
  for (const volts of [0.1, 0.3, 1]) {
    const [output, input] = [peakAt("o", volts, 1), peakAt("p", volts, 1)];
    expect(output).toBeGreaterThan(input);
    // What the diodes hold is one silicon drop, 0.4 to 0.8 V [from memory]; the input comes on top of it.
    expect(output - input).toBeGreaterThan(0.35);
    expect(output - input).toBeLessThan(0.85);
  }
});

test("each place of the diodes' control lifts out what it says", () => {
  const refs = (diodesFitted: number) =>
    courseCircuit({lesson: 10, settings: {diodesFitted}}).circuit.parts.flatMap(({ref}) =>
      ref === "D1" || ref === "D2" ? [ref] : [],
    );
  expect([0, 1, 2, 3].map(refs)).toEqual([[], ["D1", "D2"], ["D1"], ["D2"]]);
});
