import {readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";

/** One case of the independent data, as it stands in the file; tests/reference/independent/README.md explains the form. */
export type ReferenceCase = Readonly<{
  id: string;
  title: string;
  netlist: readonly NetlistEntry[] | null;
  source: Readonly<Record<string, unknown>> | null;
  analysis: Readonly<{kind: string; freqs_hz?: readonly number[]} & Record<string, unknown>>;
  probes: readonly Readonly<Record<string, unknown>>[];
  conditions: Readonly<Record<string, unknown>>;
  expected: Readonly<Record<string, unknown>>;
  tolerance: Readonly<{rel?: number; abs?: number; reason: string} & Record<string, unknown>>;
  settings?: Readonly<Record<string, unknown>>;
  quality?: unknown;
}>;

/** One part of a case's netlist. */
export type NetlistEntry = Readonly<{
  ref: string;
  kind: string;
  nodes: readonly string[];
  value?: number | string | null;
  params?: Readonly<Record<string, unknown>>;
}>;

/** The project's own copy of the cases. */
export const homeFolder = join(import.meta.dirname, "../reference/independent");

/** Folder of the cases: REFERENCE_CASES, else the project's own. */
export const casesFolder = process.env["REFERENCE_CASES"] ?? homeFolder;

/** Kinds of analysis that some test of this project checks; a case of any other kind must fail, not be passed over. */
export const knownKinds = [
  "ac_gain",
  "impedance",
  "dc_operating_point",
  "dc_sweep",
  "periodic_steady_state",
  "transient",
  "noise",
  "sensitivity",
  "worst_case_corner",
  "loudness_bs1770",
  "filter_response",
] as const;

/** How a case of a settled cycle is driven. */
export type Drive =
  | Readonly<{form: "sine"; peakVolts: number; frequencyHz: number}>
  | Readonly<{form: "two sines"; peaksVolts: readonly [number, number]; frequenciesHz: readonly [number, number]}>;

/** What drives a settled cycle. @throws {Error} for a source of a form that no test plays */
export function driveOf({id, source}: ReferenceCase): Drive {
  if (typeof source?.["freq_hz"] === "number" && typeof source["amplitude_peak"] === "number")
    return {form: "sine", peakVolts: source["amplitude_peak"], frequencyHz: source["freq_hz"]};
  const sine = String.raw`([\d.]+)\*sin\(2\*pi\*([\d.]+)\*t\)`;
  const found = new RegExp(`^${sine}\\+${sine}$`).exec(String(source?.["expression"]).replaceAll(" ", ""));
  if (found === null) throw new Error(`${id}: the source ${JSON.stringify(source)} is of an unknown form`);
  const [firstPeak = NaN, firstHz = NaN, secondPeak = NaN, secondHz = NaN] = found.slice(1).map(Number);
  return {form: "two sines", peaksVolts: [firstPeak, secondPeak], frequenciesHz: [firstHz, secondHz]};
}

/**
 * What each kind of case may expect: every name is checked by some test, or said here to tell nothing of its own. A name that is not
 * here must fail: nothing a case says may be passed over.
 */
export const knownExpectations: Readonly<Record<(typeof knownKinds)[number], RegExp>> = {
  // Levels and phases are those of re and im, which are checked; the unit is the convention's.
  ac_gain: /^(re|im|mag_db|phase_deg|unit)$/,
  impedance: /^(re|im|mag_db|phase_deg|unit)$/,
  dc_operating_point: /^(v_|i_)?\w+$/,
  dc_sweep: /^(v_out|v_feedback|small_signal_gain_at_0)$/,
  // A settled cycle: a spectrum under the probe's own name, its waveform, its peak and distortion; of two tones the products.
  periodic_steady_state: /^(convention|waveform_\w+|peak_out|thd_out_20|products|rms_out|o|out)$/,
  transient: /^waveform_\w+$/,
  noise: /^(density_V_per_rtHz|integrated_rms_V|contribution_V2_per_Hz|integrated_contribution_V2)$/,
  // How many corners there are follows from the parts; a root of summed squares from the tolerances.
  sensitivity: /^(sensitivity|abs_H_nominal|abs_H_min_over_corners|abs_H_max_over_corners|corner_count)$/,
  worst_case_corner: /^(nominal_hz|min_hz|max_hz|root_sum_square_rel)$/,
  // Blocks and the gated figure are checked; the rest is a mean, a count or the largest of the blocks.
  loudness_bs1770:
    /^(block_count|block_lkfs|blocks_over_absolute_gate|blocks_used|integrated_gated_lkfs|margin_to_gates_lu|mean_square_weighted|momentary_max_lkfs|peak|relative_gate_lkfs|ungated_lkfs)$/,
  filter_response: /^(mag_db|impulse_response_32)$/,
};

/** Every case in a folder. @throws {Error} if there is none: an empty folder must not pass */
export function allCases(folder = casesFolder): readonly ReferenceCase[] {
  const files = readdirSync(folder).filter((name) => name.endsWith(".json"));
  const cases = files.flatMap(
    (name) => (JSON.parse(readFileSync(join(folder, name), "utf8")) as {cases: ReferenceCase[]}).cases,
  );
  if (cases.length === 0) throw new Error(`no cases in ${folder}`);
  return cases;
}

/** The cases of one kind of analysis. */
export const casesOfKind = (...kinds: readonly (typeof knownKinds)[number][]): readonly ReferenceCase[] =>
  allCases().filter(({analysis}) => kinds.some((kind) => kind === analysis.kind));

/** Cases of the project's own folder, whatever REFERENCE_CASES says: for tests that need these very ones. */
export const homeCases = (start: string): readonly ReferenceCase[] =>
  allCases(homeFolder).filter(({id}) => id.startsWith(start));
