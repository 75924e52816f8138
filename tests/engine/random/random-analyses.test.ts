import fc from "fast-check";
import {expect, test} from "vitest";
import {
  frequencyResponse,
  logFrequencies,
  magnitudeDb,
  phaseDegrees,
} from "../../../src/engine/analysis/frequency-response.ts";
import {crestFactorDb} from "../../../src/engine/analysis/crest.ts";
import {groupDelay} from "../../../src/engine/analysis/group-delay.ts";
import {inputImpedance, outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {integratedNoise, noiseDensity} from "../../../src/engine/analysis/noise.ts";
import {responseCorners, responseShelf} from "../../../src/engine/analysis/response-corners.ts";
import {sensitivities} from "../../../src/engine/analysis/sensitivity.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {levelResponse} from "../../../src/engine/analysis/level-response.ts";
import {levelSweep} from "../../../src/engine/analysis/level-sweep.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {twoTone} from "../../../src/engine/analysis/two-tone.ts";
import {monteCarlo, usualTolerances, whichPartPays, worstCase} from "../../../src/engine/analysis/tolerance.ts";
import type {Circuit} from "../../../src/engine/circuit/circuit.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {courseCircuits, diodeCircuits, linearCircuits} from "./random-circuits.ts";

// The same circuits each time; another seed in FAST_CHECK_SEED looks further.
const seed = Number(process.env["FAST_CHECK_SEED"] ?? 20261125);

const lastNode = ({nodes}: Circuit) => ["out", "w"].find((node) => nodes.includes(node)) ?? nodes.at(-1) ?? "0";

const kinds = [
  ["sources, resistors, capacitors, coils and pots", linearCircuits],
  ["the same with diodes of every kind", diodeCircuits],
  ["the course's own circuits with any values, any op-amp, any supply", courseCircuits],
] as const;

test.each(kinds)("no analysis of random circuits returns NaN: %s", (_, circuits) => {
  const frequencies = logFrequencies(20, 20e3, 4);
  const sound = (what: string, rows: readonly ArrayLike<number>[]) => {
    for (const row of rows)
      for (const value of Array.from(row)) if (Number.isNaN(value)) throw new Error(`${what}: NaN`);
  };
  fc.assert(
    fc.property(circuits, (whole) => {
      const output = lastNode(whole);
      const gainDb = (of: Circuit) => magnitudeDb(frequencyResponse(of, output, frequencies));
      const response = frequencyResponse(whole, output, frequencies);
      sound("response", [response.re, response.im, magnitudeDb(response), phaseDegrees(response)]);
      sound("group delay", [groupDelay(whole, output, frequencies)]);
      const [into, from] = [
        outputImpedance(whole, output, frequencies),
        inputImpedance(whole, whole.nodes.includes("in") ? "in" : "n1", frequencies),
      ];
      sound("impedance", [into.re, into.im, from.re, from.im]);
      const {
        peak,
        low = 0,
        high = 0,
        slopeAtLowEnd,
        slopeAtHighEnd,
      } = responseCorners(whole, output, {lowHz: 20, highHz: 2e4});
      sound("corners", [[peak.frequencyHz, peak.gainDb, low, high, slopeAtLowEnd, slopeAtHighEnd]]);
      sound("shelf", [Object.values(responseShelf(whole, output, {lowHz: 20, highHz: 2e4}) ?? {})]);
      const {volts, aWeightedVolts, shares} = integratedNoise(whole, output);
      sound("noise", [
        [volts, aWeightedVolts],
        shares.map(({share}) => share),
        noiseDensity(whole, output, frequencies).density,
      ]);
      sound(
        "sensitivities",
        sensitivities(whole, output, frequencies).map(({gain}) => gain),
      );
      sound(
        "which part pays",
        whichPartPays(whole, output, frequencies).map(({decibels, share}) => [decibels, share]),
      );
      const {lowest, highest} = worstCase(whole, {byKind: {inductor: 0.1}}, gainDb);
      sound("worst case", [lowest, highest]);
      const bands = monteCarlo(whole, usualTolerances, gainDb, {runs: 20});
      sound("bands", [bands.low, bands.middle, bands.high]);
      sound("crest factor", [[crestFactorDb(response.re)]]);
    }),
    {numRuns: 50, seed},
  );
});

test.each(kinds)(
  "random signals to ±20 V through random circuits: every step is solved, but for one circuit in 500, and finite: %s",
  (_, circuits) => {
    const held = new Set<Circuit>();
    fc.assert(
      fc.property(circuits, fc.integer(), (whole, noise) => {
        const draw = seededNoise(noise);
        const signal = Float64Array.from({length: 40}, () => 20 * draw());
        const options = {oversampling: 2, onHeld: () => void held.add(whole)};
        const volts = timeResponse(whole, lastNode(whole), signal, 48_000, options);
        expect(volts.every(Number.isFinite)).toBe(true);
      }),
      {numRuns: 500, seed},
    );
    // An output that carries its own supply may meet steps without a solution: of seeds 1 to 60, one circuit of seed 22.
    expect(held.size).toBeLessThanOrEqual(1);
  },
);

test("levels of random linear circuits give no NaN, not even where nothing comes out", () => {
  const levels = Float64Array.of(0.1, 0.2, 0.4);
  fc.assert(
    fc.property(linearCircuits, (whole) => {
      const output = lastNode(whole);
      const rows = [
        ...Object.values(levelSweep(whole, output, 440, levels)),
        ...levelResponse(whole, output, Float64Array.of(100, 5000), levels),
      ];
      for (const row of rows) expect(Array.from(row).some(Number.isNaN)).toBe(false);
    }),
    {numRuns: 40, seed},
  );
});

test("sines of 1 to 20 V settle in the course's own circuits with any values, in finite numbers", () => {
  fc.assert(
    fc.property(courseCircuits, fc.integer({min: 1, max: 20}), (whole, peakVolts) => {
      const output = lastNode(whole);
      const {at} = steadyCycle(whole, {frequencyHz: 220, peakVolts}, [output], 64, 4);
      expect(at.get(output)?.every(Number.isFinite)).toBe(true);
    }),
    {numRuns: 40, seed},
  );
});

test.each([
  ["sources, resistors, capacitors, coils and pots", linearCircuits, 80],
  ["the same with diodes of every kind", diodeCircuits, 300],
  ["the course's own circuits with any values, any op-amp, any supply", courseCircuits, 80],
] as const)("two tones settle in random circuits: %s", (_, circuits, numRuns) => {
  const tones = {lowHz: 220, highHz: 330, lowPeakVolts: 0.1, highPeakVolts: 0.1};
  fc.assert(
    fc.property(circuits, (whole) => {
      expect(twoTone(whole, lastNode(whole), tones, {stepsPerCycle: 128}).cycle.every(Number.isFinite)).toBe(true);
    }),
    {numRuns, seed},
  );
});
