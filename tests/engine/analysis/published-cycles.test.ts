import {expect, test} from "vitest";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {gainStage, inputNetwork, pair, resistor, signalAt, toneAndVolume} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";

// tests/reference/published/18_time_domain_reference.json: harmonic balance with 2048 points, checked there by scipy's Radau
// to some 1e-10 V. Its rows ask for 1e-6, relative; we take it of the row's peak, for harmonics of the fundamental.
const cycles = published("18_time_domain_reference");
const hold = holder("published-cycles", "harmonic balance, 2048 points, checked by scipy's Radau");
const rel = 1e-6;
const points = 2048; // the tables' own grid, so that peaks and harmonics mean the same

type Harmonic = Readonly<{amplitude: number; phase_deg_re_sine: number}>;

function holdHarmonics(id: string, cycle: Float64Array, expected: Readonly<Record<string, Harmonic>>): void {
  const {amplitude, phaseDegrees} = harmonicsOf(cycle, 21);
  const fundamental = expected["1"]?.amplitude ?? Number.NaN;
  for (const [order, {amplitude: volts, phase_deg_re_sine: degrees}] of Object.entries(expected)) {
    // As complex numbers: the phase of a harmonic 90 dB down is worth little, its place in the plane as much as any other's.
    const at = (((phaseDegrees[Number(order)] ?? Number.NaN) + 90) * Math.PI) / 180; // ours are of a cosine
    const ours = amplitude[Number(order)] ?? Number.NaN;
    const there = (degrees * Math.PI) / 180;
    const apart = Math.hypot(
      ours * Math.cos(at) - volts * Math.cos(there),
      ours * Math.sin(at) - volts * Math.sin(there),
    );
    expect(apart, `${id}, harmonic ${order}`).toBeLessThanOrEqual(rel * fundamental);
    hold(`${id}, harmonic ${order}`, ours, volts, rel * fundamental);
  }
}

const rms = (cycle: Float64Array) => Math.sqrt(cycle.reduce((sum, volts) => sum + volts * volts, 0) / cycle.length);
const peak = (cycle: Float64Array) => cycle.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);
/** All of a cycle that is not fundamental, against the fundamental. */
function distortion(cycle: Float64Array): number {
  const fundamental = (harmonicsOf(cycle, 1).amplitude[1] ?? Number.NaN) / Math.SQRT2;
  return Math.sqrt(Math.max(0, rms(cycle) ** 2 - fundamental ** 2)) / fundamental;
}

function cycleOf(parts: readonly Part[], node: string, frequencyHz: number, peakVolts: number): Float64Array {
  return steadyCycle(circuit(parts), {frequencyHz, peakVolts}, [node], points, 4).at.get(node) ?? new Float64Array();
}

type StageRow = Readonly<
  Record<"f0" | "Vp_peak" | "gain_position" | "C3" | "C4" | "Vo_peak" | "Vo_rms" | "THD_F", number> & {
    harmonics_of_vo: Readonly<Record<string, Harmonic>>;
    samples_first_period: Readonly<Record<string, number>>;
  }
>;

test.each(cycles.table("gain_stage") as readonly StageRow[])("the clipping stage at $f0 Hz and $Vp_peak V", (row) => {
  const cycle = cycleOf(
    [signalAt("p"), ...gainStage(row.gain_position, row.C3, row.C4), ...pair("o", "m")],
    "o",
    row.f0,
    row.Vp_peak,
  );
  const id = `td.stage ${row.f0} Hz ${row.Vp_peak} V`;
  for (const [n, volts] of Object.entries(row.samples_first_period))
    expect(Math.abs((cycle[Number(n)] ?? Number.NaN) - volts), `${id} sample ${n}`).toBeLessThan(rel * row.Vo_peak);
  hold(`${id} peak`, peak(cycle), row.Vo_peak, rel * row.Vo_peak);
  hold(`${id} RMS`, rms(cycle), row.Vo_rms, rel * row.Vo_rms);
  hold(`${id} distortion`, distortion(cycle), row.THD_F, rel);
  holdHarmonics(id, cycle, row.harmonics_of_vo);
});

type ChainRow = Readonly<
  Record<
    | "f0"
    | "Vg_peak"
    | "gain_position"
    | "tone"
    | "C6"
    | "volume_fraction"
    | "Vout_peak"
    | "Vout_rms"
    | "THD_F_out"
    | "Vo_peak",
    number
  > & {harmonics_of_vout: Readonly<Record<string, Harmonic>>}
>;

test.each(cycles.table("whole_chain") as readonly ChainRow[])("the whole chain at $f0 Hz and $Vg_peak V", (row) => {
  const parts = [
    signalAt("g"),
    ...inputNetwork,
    ...gainStage(row.gain_position, 68e-9, 120e-12),
    ...pair("o", "m"),
    ...toneAndVolume(row.tone, row.C6, row.volume_fraction),
  ];
  const cycle = cycleOf(parts, "out", row.f0, row.Vg_peak);
  const id = `td.pedal ${row.f0} Hz ${row.Vg_peak} V`;
  hold(`${id} peak`, peak(cycle), row.Vout_peak, rel * row.Vout_peak);
  hold(`${id} RMS`, rms(cycle), row.Vout_rms, rel * row.Vout_rms);
  hold(`${id} distortion`, distortion(cycle), row.THD_F_out, rel);
  holdHarmonics(id, cycle, row.harmonics_of_vout);
});

const diodes = published("05_diodes");
const holdStatic = holder("published-clippers", "Shockley's law and Kirchhoff's, Newton with 50 digits");

test("a shunt clipper's pair has the published voltage at rest", () => {
  const rows = diodes.table("shunt_clipper_pair") as readonly {V: number; R: number; Vd: number}[];
  expect(rows.length).toBeGreaterThan(30);
  for (const {V, R, Vd} of rows) {
    const point = operatingPoint(circuit([signalAt("s", V), resistor("R", "s", "d", R), ...pair("d", "0")]));
    // The table's 1e-10 of 'feedback.static', its sibling; and rounding in 10 V of source, 1e-14 V.
    holdStatic(`shunt ${V} V, ${R} Ω`, restVoltage(point, "d"), Vd, 1e-10 * Math.abs(Vd) + 1e-14);
  }
});

test("the feedback clipper follows its static transfer (check feedback.static: 1e-10)", () => {
  const rows = diodes.table("feedback_clipper_static") as readonly {position: number; Vin: number; Vout: number}[];
  expect(rows.length).toBeGreaterThan(50);
  for (const {position, Vin, Vout} of rows) {
    const stage = circuit([signalAt("p", Vin), ...gainStage(position, undefined, undefined), ...pair("o", "m")]);
    holdStatic(`feedback ${position}, ${Vin} V`, restVoltage(operatingPoint(stage), "o"), Vout, 1e-10 * Math.abs(Vout));
  }
});
