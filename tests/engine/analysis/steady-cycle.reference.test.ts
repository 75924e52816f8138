import {expect} from "vitest";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, driveOf} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, readCircuit} from "../../reference-cases/read-case.ts";
import {worstRows} from "../../reference-cases/worst-rows.ts";

// Source: tests/reference/independent/04_periodic_steady_state.json (Kirchhoff's equations by hand, scipy).
const record = accuracyTable("steady-cycle");

type Spectrum = Readonly<{dc?: number; magnitude: readonly number[]; phase_rad: readonly (number | null)[]}>;

const cases = casesOfKind("periodic_steady_state").filter((each) => driveOf(each).form === "sine");

eachCase("settles as published", cases, (given) => {
  const {id} = given;
  const drive = driveOf(given);
  if (drive.form !== "sine") throw new Error(`${id}: not one sine`);
  const probes = [...new Set(given.probes.map((probe) => String(probe["node"])))];
  // 512 points: at 256 the harmonics that fold back reach 1e-6 of a hard-driven case.
  const {at} = steadyCycle(readCircuit(given), drive, probes, 512, 8);
  // The case's own figure for a converged step: what remains of the reference's and the steps' error.
  const tolerance = Number(given.tolerance["fine_rel"]);
  expect(tolerance).toBeGreaterThan(0);
  const rows = worstRows(record);
  const hold = (what: string, ours: number, expected: number, difference: number, size: number) => {
    const row = {id: `${id} ${what}`, source: given.title, expected, ours, difference, tolerance: tolerance * size};
    rows.keep(what.replace(/ \d+$/, ""), row);
    expect(difference, `${id} ${what}: ${ours} for ${expected}`).toBeLessThanOrEqual(tolerance * size);
  };
  for (const probe of probes) {
    const wanted = numbers(id, given.expected[`waveform_${probe}`]);
    const ours = at.get(probe) ?? new Float64Array();
    const peak = Math.max(...wanted.map(Math.abs));
    const off = wanted.map((volts, n) => Math.abs((ours[8 * n] ?? NaN) - volts));
    hold(`${probe}, largest difference of 64 points`, Math.max(...off), 0, Math.max(...off), peak);
    expect(off.every((volts) => volts <= tolerance * peak)).toBe(true); // NaN must not pass
    // The house's own aim for curves and figures, beyond the case's tolerance: 120 dB under the signal's RMS.
    const rms = (row: Float64Array) => Math.sqrt(row.reduce((sum, volts) => sum + volts * volts, 0) / row.length);
    expect(20 * Math.log10(rms(off) / rms(wanted)), `${id} ${probe}`).toBeLessThan(-120);
    const spectrum = given.expected[probe] as Spectrum;
    const harmonics = harmonicsOf(ours);
    const {amplitude, phaseDegrees} = harmonics;
    spectrum.magnitude.forEach((volts, k) => {
      const phase = spectrum.phase_rad[k] ?? null;
      const got = amplitude[k + 1] ?? NaN;
      const there = phase ?? 0;
      const here = phase === null ? 0 : ((phaseDegrees[k + 1] ?? NaN) * Math.PI) / 180;
      // As complex numbers, as the case asks; without a phase the reference's own is noise, and the size alone counts.
      const apart = Math.hypot(
        got * Math.cos(here) - volts * Math.cos(there),
        got * Math.sin(here) - volts * Math.sin(there),
      );
      hold(`${probe}, harmonic ${k + 1}`, got, volts, apart, peak);
    });
    if (probe !== "out") continue;
    const distortion = harmonicDistortion(harmonics).ofFundamental;
    const thd = Number(given.expected["thd_out_20"]);
    // Twenty harmonics, each off by the tolerance at most.
    hold(
      "distortion",
      distortion,
      thd,
      Math.abs(distortion - thd),
      Math.sqrt(20) * (peak / (spectrum.magnitude[0] ?? NaN)),
    );
    const highest = Math.max(...ours.map(Math.abs));
    const peakOut = Number(given.expected["peak_out"]);
    // The tallest of 512 points lies half a point from the top at most: of a top as round as harmonic h's, (π·h/512)²/2 below it.
    expect(highest).toBeLessThanOrEqual(peakOut * (1 + tolerance));
    expect(highest).toBeGreaterThanOrEqual(peakOut * (1 - (Math.PI * 8) ** 2 / 512 ** 2 / 2));
  }
});
