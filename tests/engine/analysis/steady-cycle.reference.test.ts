import {expect, test} from "vitest";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
import {readCircuit} from "../../reference-cases/read-case.ts";

// Source: tests/reference/independent/04_periodic_steady_state.json (Kirchhoff's equations by hand, scipy).
const record = accuracyTable("steady-cycle");

test.each(
  casesOfKind("periodic_steady_state")
    .filter(({source}) => source !== null && "freq_hz" in source)
    .map((each) => [each.id, each] as const),
)("%s settles as published", (id, given) => {
  const {amplitude_peak: peakVolts, freq_hz: frequencyHz} = given.source as unknown as {
    amplitude_peak: number;
    freq_hz: number;
  };
  const probes = [...new Set(given.probes.map((probe) => String(probe["node"])))];
  // 512 points: at 256 the harmonics that fold back reach 1e-6 of a hard-driven case.
  const {at} = steadyCycle(readCircuit(given), {frequencyHz, peakVolts}, probes, 512, 8);
  // The case's own figure for a converged step: what remains of the reference's and the steps' error.
  const tolerance = Number(given.tolerance["fine_rel"]);
  expect(tolerance).toBeGreaterThan(0);
  for (const probe of probes) {
    const wanted = given.expected[`waveform_${probe}`] as readonly number[];
    const ours = at.get(probe) ?? new Float64Array();
    const peak = Math.max(...wanted.map(Math.abs));
    const worst = Math.max(...wanted.map((volts, n) => Math.abs((ours[8 * n] ?? NaN) - volts))) / peak;
    record({
      id: `${id} ${probe}`,
      source: given.title,
      expected: "64 points",
      ours: "largest difference over the peak",
      difference: worst,
      tolerance,
    });
    expect(worst).toBeLessThanOrEqual(tolerance);
    const {magnitude} = given.expected[probe] as {magnitude: readonly number[]};
    const {amplitude} = harmonicsOf(ours);
    magnitude.forEach((volts, k) => {
      expect(Math.abs((amplitude[k + 1] ?? NaN) - volts), `harmonic ${k + 1}`).toBeLessThanOrEqual(tolerance * peak);
    });
  }
});
