// Frequency response of the full circuit at 400 points: ours, a plain dense complex LU, and mathjs matrices with lusolve.
import {complex, lusolve, matrix, type Complex} from "mathjs";
import {frequencyResponse, logFrequencies, type ComplexArray} from "../../src/engine/analysis/frequency-response.ts";
import {smallSignalStamps} from "../../src/engine/analysis/small-signal.ts";
import {frequencySolver} from "../../src/engine/analysis/solve-at-frequencies.ts";
import {courseCircuit, lessonCount} from "../../src/engine/course/course-circuit.ts";
import {factorComplex, solveComplex} from "../../src/engine/solve/complex-lu.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const {circuit, listenAt} = courseCircuit({lesson: lessonCount, settings: {}});
const equations = smallSignalStamps(circuit);
const {size, conductance, storage, signal, unknownOf} = equations;
const listened = unknownOf.get(listenAt)!;
const frequencies = logFrequencies(20, 20e3, 400);
const fewPoints = Float64Array.from({length: 8}, (_, k) => frequencies[k * 57]!);

/** Row-major (G + jωC). */
function matrixAt(frequencyHz: number, re: Float64Array, im: Float64Array): void {
  re.fill(0);
  im.fill(0);
  for (let k = 0; k < conductance.values.length; k++)
    re[conductance.rows[k]! * size + conductance.columns[k]!]! += conductance.values[k]!;
  for (let k = 0; k < storage.values.length; k++)
    im[storage.rows[k]! * size + storage.columns[k]!]! += 2 * Math.PI * frequencyHz * storage.values[k]!;
}

function dense(at: Float64Array): ComplexArray {
  const [re, im] = [new Float64Array(size * size), new Float64Array(size * size)];
  const [xRe, xIm, zero] = [new Float64Array(size), new Float64Array(size), new Float64Array(size)];
  const order = new Int32Array(size);
  const out = {re: new Float64Array(at.length), im: new Float64Array(at.length)};
  at.forEach((frequencyHz, k) => {
    matrixAt(frequencyHz, re, im);
    factorComplex(size, re, im, order);
    solveComplex(size, re, im, order, signal, zero, xRe, xIm);
    out.re[k] = xRe[listened]!;
    out.im[k] = xIm[listened]!;
  });
  return out;
}

function byMathjs(at: Float64Array): ComplexArray {
  const [re, im] = [new Float64Array(size * size), new Float64Array(size * size)];
  const out = {re: new Float64Array(at.length), im: new Float64Array(at.length)};
  at.forEach((frequencyHz, k) => {
    matrixAt(frequencyHz, re, im);
    const rows = Array.from({length: size}, (_, i) =>
      Array.from({length: size}, (__, j) => complex(re[i * size + j]!, im[i * size + j]!)),
    );
    const drive = Array.from(signal, (value) => [complex(value, 0)]);
    const x = lusolve(matrix(rows as never), matrix(drive as never));
    const value = (x as unknown as {get: (at: number[]) => Complex}).get([listened, 0]);
    out.re[k] = value.re;
    out.im[k] = value.im;
  });
  return out;
}

const worst = (a: ComplexArray, b: ComplexArray): number =>
  Math.max(...a.re.map((re, k) => Math.hypot(re - b.re[k]!, a.im[k]! - b.im[k]!) / Math.hypot(re, a.im[k]!)));

const solver = frequencySolver(equations);
const ours = (at: Float64Array) => solver.response(signal, listened, at);
const missDense = worst(ours(frequencies), dense(frequencies));
const missMathjs = worst(ours(fewPoints), byMathjs(fewPoints));
if (!(missDense < 1e-9 && missMathjs < 1e-9)) throw new Error(`the solutions differ: ${missDense}, ${missMathjs}`);

// A sweep is short beside the clock's grain: twenty of them a timing.
const twenty = (act: () => void) => shortestSeconds(() => Array.from({length: 20}, act), 15) / 20;
const ourSeconds = twenty(() => ours(frequencies));
const denseSeconds = twenty(() => dense(frequencies));
const mathjsSeconds = (shortestSeconds(() => byMathjs(fewPoints), 30) * frequencies.length) / fewPoints.length;
// A circuit not met before: its operating point and its equations are part of the work.
const freshSeconds = twenty(() => {
  const fresh = courseCircuit({lesson: lessonCount, settings: {}});
  frequencyResponse(fresh.circuit, fresh.listenAt, frequencies);
});

console.log(`figure full-circuit,-unknowns ${size}`);
console.log(`figure sweep-of-400-points,-microseconds ${(ourSeconds * 1e6).toFixed(0)}`);
console.log(`figure circuit,-operating-point-and-sweep,-microseconds ${(freshSeconds * 1e6).toFixed(0)}`);
console.log(`mathjs was run at ${fewPoints.length} frequencies and its time scaled to ${frequencies.length}`);
console.log(`ratio sweep-against-mathjs-lusolve-(8-points,-scaled) ${(mathjsSeconds / ourSeconds).toFixed(1)} 600`);
console.log(`ratio sweep-against-plain-dense-LU ${(denseSeconds / ourSeconds).toFixed(2)} 3`);
