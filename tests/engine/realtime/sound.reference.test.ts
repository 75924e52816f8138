import {expect} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import {adaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {memoryAt} from "../../../src/engine/realtime/derive-step.ts";
import {fileTolerance} from "../../../src/engine/realtime/rates.ts";
import {stepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, driveOf, type ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";
import {sourceOf} from "../../reference-cases/source-of.ts";

// Source: tests/reference/independent, 04 and 05 (Kirchhoff's equations by hand, scipy).
const note = accuracyTable("sound");

/** Four samples, as in a file. */
const longestSeconds = 4 / 48_000;
/** C5 with its load settles in 0.11 s: exp(−11), 95 dB, of what little the start disturbs is left. */
const settleSeconds = 1.2;

/** Where a case's waveform is held to ours: how far apart its points stand, the first of them, how many. */
type Grid = Readonly<{node: string; apart: number; first: number; wanted: Float64Array; fromRest: boolean}>;

function gridOf(given: ReferenceCase): Grid {
  const {id, analysis, expected} = given;
  if (analysis.kind === "transient") {
    const t = numbers(id, analysis["t"]);
    const node = String(given.probes[0]?.["node"]);
    const wanted = numbers(id, expected[`waveform_${node}`]).subarray(1);
    return {node, apart: (t[1] ?? 0) - (t[0] ?? 0), first: 1, wanted, fromRest: false};
  }
  const drive = driveOf(given);
  const node = probeNode(given);
  const wanted = numbers(id, expected[`waveform_${node}`]);
  const apart = drive.form === "sine" ? 1 / drive.frequencyHz / wanted.length : Number(analysis["sample_spacing_s"]);
  const period = drive.form === "sine" ? wanted.length : Math.round(1 / apart);
  return {node, apart, first: period * Math.ceil(settleSeconds / (period * apart)), wanted, fromRest: true};
}

/** The case's waveform as a file's circuit runs. */
function played(given: ReferenceCase, {node, apart, first, wanted, fromRest}: Grid): Float64Array {
  const circuit = readCircuit(given);
  const equations = stamps(circuit);
  const ladder = stepLadder(equations, [equations.unknownOf.get(node) ?? -1], longestSeconds);
  const start = fromRest ? memoryAt(equations, operatingPoint(circuit).x) : new Float64Array(equations.stores.length);
  const tolerance = {relative: fileTolerance, volts: fileTolerance};
  const ours = new Float64Array(wanted.length);
  const moments = Float64Array.from(wanted, (_, n) => (first + n) * apart);
  adaptiveRun(ladder, start, sourceOf(given), tolerance, fromRest).advance(moments, ours);
  return ours;
}

const rms = (row: Float64Array) => Math.sqrt(row.reduce((sum, volts) => sum + volts * volts, 0) / row.length);

const steady = (given: ReferenceCase) => !String(given.source?.["expression"]).startsWith("1 for");
const cases = casesOfKind("transient", "periodic_steady_state").filter(steady);

eachCase("a sound file comes within −105 dB", cases, (given) => {
  const grid = gridOf(given);
  const ours = played(given, grid);
  const off = rms(grid.wanted.map((volts, k) => volts - (ours[k] ?? Number.NaN)));
  const size = rms(grid.wanted);
  const tolerance = 10 ** (-105 / 20);
  const source = "independent/04 and 05, run as a sound file is";
  note({id: `${given.id} ${grid.node}`, source, expected: size, ours: rms(ours), difference: off / size, tolerance});
  expect(20 * Math.log10(off / size)).toBeLessThan(-105);
});
