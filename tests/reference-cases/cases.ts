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

/** Folder of the cases: REFERENCE_CASES, else the copy beside these tests. */
export const casesFolder = process.env["REFERENCE_CASES"] ?? join(import.meta.dirname, "../reference/independent");

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

/** Every case in the folder. @throws {Error} if there is none: an empty folder must not pass */
export function allCases(): readonly ReferenceCase[] {
  const files = readdirSync(casesFolder).filter((name) => name.endsWith(".json"));
  const cases = files.flatMap(
    (name) => (JSON.parse(readFileSync(join(casesFolder, name), "utf8")) as {cases: ReferenceCase[]}).cases,
  );
  if (cases.length === 0) throw new Error(`no cases in ${casesFolder}`);
  return cases;
}

/** The cases of one kind of analysis. */
export const casesOfKind = (...kinds: readonly (typeof knownKinds)[number][]): readonly ReferenceCase[] =>
  allCases().filter(({analysis}) => kinds.some((kind) => kind === analysis.kind));
