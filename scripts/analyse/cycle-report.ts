import {crestFactorDb, rms} from "../../src/engine/analysis/crest.ts";
import {harmonicDistortion} from "../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../src/engine/analysis/steady-cycle.ts";
import {requireNode, type Circuit} from "../../src/engine/circuit/circuit.ts";

/** All that a settled cycle tells. `input` against `output` is the transfer curve; peak and RMS are those of what moves. */
export function cycleReport(
  circuit: Circuit,
  node: string,
  frequencyHz: number,
  peakVolts: number,
  points = 256,
): object {
  requireNode(circuit, node);
  const {seconds, input, at} = steadyCycle(circuit, {frequencyHz, peakVolts}, [node], points);
  const output = at.get(node) ?? new Float64Array(points);
  const harmonics = harmonicsOf(output);
  const moving = output.map((volts) => volts - (harmonics.amplitude[0] ?? 0));
  const fundamental = harmonics.amplitude[1] ?? 0;
  return {
    seconds,
    input,
    output,
    peakVolts: moving.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0),
    rmsVolts: rms(moving),
    crestFactorDb: crestFactorDb(moving),
    harmonics: {
      ...harmonics,
      levelDb: harmonics.amplitude.map((volts) => 20 * Math.log10(Math.abs(volts) / fundamental)),
    },
    distortion: harmonicDistortion(harmonics),
  };
}
