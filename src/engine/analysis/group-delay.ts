import {requireNode, type Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {smallSignalStamps} from "./small-signal.ts";
import {frequencySolver} from "./solve-at-frequencies.ts";

/**
 * Group delay from the signal source to `output` in seconds at each frequency, −dφ/dω; 0 where nothing comes through.
 *
 * Method: exact, not by differences. From (G + jωC)·x = b follows dx/dω = −(G + jωC)⁻¹·jC·x, and the delay is the imaginary
 * part of −(dH/dω)/H.
 */
export function groupDelay(circuit: Circuit, output: NodeName, frequenciesHz: Float64Array): Float64Array {
  requireNode(circuit, output);
  const equations = smallSignalStamps(circuit);
  const unknown = equations.unknownOf.get(output) ?? -1;
  const {rows, columns, values} = equations.storage;
  const solver = frequencySolver(equations);
  const [re, im] = [new Float64Array(equations.size), new Float64Array(equations.size)];
  return frequenciesHz.map((frequencyHz) => {
    solver.factor(frequencyHz);
    const {xRe, xIm} = solver.solve(equations.signal);
    const [hRe, hIm] = [xRe[unknown] ?? 0, xIm[unknown] ?? 0];
    re.fill(0);
    im.fill(0);
    for (let k = 0; k < values.length; k++) {
      const [row, column, value] = [rows[k] ?? 0, columns[k] ?? 0, values[k] ?? 0];
      re[row] = (re[row] ?? 0) + value * (xIm[column] ?? 0);
      im[row] = (im[row] ?? 0) - value * (xRe[column] ?? 0);
    }
    const {xRe: dRe, xIm: dIm} = solver.solve(re, im);
    const slopeIm = (dIm[unknown] ?? 0) * hRe - (dRe[unknown] ?? 0) * hIm;
    const square = hRe * hRe + hIm * hIm;
    return square > 0 ? -slopeIm / square : 0;
  });
}
