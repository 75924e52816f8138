import {expect} from "vitest";
import {stamps} from "../../../src/engine/analysis/stamps.ts";
import {adaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {stepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {numbers, readCircuit} from "../../reference-cases/read-case.ts";
import {sourceOf} from "../../reference-cases/source-of.ts";

// Source: tests/reference/independent/05, state equations by hand and scipy's Radau at rtol 1e-11.
const note = accuracyTable("precise transient");

eachCase("from nothing charged, with steps of its own choice", casesOfKind("transient"), (given) => {
  const {id} = given;
  const circuit = readCircuit(given);
  const equations = stamps(circuit);
  const times = numbers(id, given.analysis["t"]);
  // A source that steps at 0 s has no value there.
  const from = id.endsWith("_step") ? 1 : 0;
  const ladder = stepLadder(
    equations,
    given.probes.map((probe) => equations.unknownOf.get(String(probe["node"])) ?? -1),
    0.02,
  );
  for (const tolerance of [1e-6, 1e-8]) {
    const side = new Float64Array(times.length * ladder.outputs);
    const discharged = new Float64Array(equations.stores.length);
    adaptiveRun(ladder, discharged, sourceOf(given), {relative: tolerance, volts: tolerance}).advance(times, side);
    given.probes.forEach((probe, k) => {
      const node = String(probe["node"]);
      const expected = numbers(id, given.expected[`waveform_${node}`]).subarray(from);
      const ours = expected.map((_, n) => side[(n + from) * ladder.outputs + k] ?? Number.NaN);
      const size = expected.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);
      const off = expected.reduce((most, volts, n) => Math.max(most, Math.abs(volts - (ours[n] ?? Number.NaN))), 0);
      // The reference is good to 1e-9 of the peak; a few steps' errors are left in a waveform, and gain makes more of them.
      const allowed = 4 * tolerance;
      const source = "independent/05_transient_and_two_tone.json";
      note({
        ...{id: `${id} ${node} at ${tolerance}`, source, expected: size},
        ...{ours: ours.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0)},
        ...{difference: off / size, tolerance: allowed},
      });
      expect(off / size, `${id} ${node} at ${tolerance}`).toBeLessThanOrEqual(allowed);
    });
  }
});
