import {expect} from "vitest";
import {operatingPoint} from "../../src/engine/analysis/operating-point.ts";
import {stamps} from "../../src/engine/analysis/stamps.ts";
import {blockStepper} from "../../src/engine/realtime/block-stepper.ts";
import {memoryAt, stepModel} from "../../src/engine/realtime/derive-step.ts";
import {casesOfKind, driveOf, type ReferenceCase} from "./cases.ts";
import {numbers, probeNode, readCircuit} from "./read-case.ts";
import {sourceOf} from "./source-of.ts";

/** C5 with its load settles in 0.11 s: exp(−11), 95 dB, of what little the start disturbs is left. */
const settleSeconds = 1.2;

/** Where a case's waveform is held to ours: how far apart its points stand, the first of them, how many. */
export type Grid = Readonly<{node: string; apart: number; first: number; wanted: Float64Array; fromRest: boolean}>;

/** Where a case's waveform is to be had. */
export function gridOf(given: ReferenceCase): Grid {
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

/** The cases with a waveform that no step of the source begins. */
export const playedCases: readonly ReferenceCase[] = casesOfKind("transient", "periodic_steady_state").filter(
  ({source}) => !String(source?.["expression"]).startsWith("1 for"),
);

/** A case's waveform as it should be, and as the trapezoidal rule steps it at `rateHz` or a little above. */
export type PlayedWave = Readonly<{node: string; wanted: Float64Array; ours: Float64Array}>;

/** @param corrects whether the rule's own error is taken out, as live sound has it */
export function playedWave(given: ReferenceCase, rateHz: number, corrects: boolean): PlayedWave {
  const {node, apart, first, wanted, fromRest} = gridOf(given);
  const circuit = readCircuit(given);
  const equations = stamps(circuit);
  const pieces = Math.ceil(apart * rateHz);
  const model = stepModel(equations, [equations.unknownOf.get(node) ?? -1], pieces / apart, "trapezoidal");
  const memory = fromRest ? memoryAt(equations, operatingPoint(circuit).x) : undefined;
  const stepper = blockStepper(model, memory, {corrects});
  const source = sourceOf(given);
  const input = new Float64Array(pieces);
  const output = new Float64Array(pieces);
  const ours = new Float64Array(wanted.length);
  // A stretch of `pieces` steps ends on each point; before the first step stands what the start holds.
  if (first === 0) throw new Error(`${given.id}: its first point lies before the first step`);
  for (let point = 1; point < first + wanted.length + stepper.late; point++) {
    for (let k = 0; k < pieces; k++) input[k] = source((point - 1 + (k + 1) / pieces) * apart);
    expect(stepper.run(input, output)).toBe(0);
    const at = stepper.late === 0 ? point - first : point - 1 - first;
    if (at >= 0 && at < ours.length)
      ours[at] = output[stepper.late === 0 ? pieces - 1 : stepper.late - 1] ?? Number.NaN;
  }
  return {node, wanted, ours};
}

/** Root of the mean square. */
export const rms = (row: Float64Array) => Math.sqrt(row.reduce((sum, volts) => sum + volts * volts, 0) / row.length);
