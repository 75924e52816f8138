import {expect} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import {adaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {memoryAt} from "../../../src/engine/realtime/derive-step.ts";
import {fileTolerance} from "../../../src/engine/realtime/rates.ts";
import {stepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import type {ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {gridOf, playedCases, rms, type Grid} from "../../reference-cases/played-wave.ts";
import {readCircuit} from "../../reference-cases/read-case.ts";
import {sourceOf} from "../../reference-cases/source-of.ts";

// Source: tests/reference/independent, 04 and 05 (Kirchhoff's equations by hand, scipy).
const note = accuracyTable("sound");

/** Four samples, as in a file. */
const longestSeconds = 4 / 48_000;
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

eachCase("a sound file comes within −105 dB", playedCases, (given) => {
  const grid = gridOf(given);
  const ours = played(given, grid);
  const off = rms(grid.wanted.map((volts, k) => volts - (ours[k] ?? Number.NaN)));
  const size = rms(grid.wanted);
  const tolerance = 10 ** (-105 / 20);
  const source = "independent/04 and 05, run as a sound file is";
  note({id: `${given.id} ${grid.node}`, source, expected: size, ours: rms(ours), difference: off / size, tolerance});
  expect(20 * Math.log10(off / size)).toBeLessThan(-105);
});
