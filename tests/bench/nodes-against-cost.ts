// What a sweep of 400 points costs on RC ladders of 5 to 80 nodes: linear if sixteen times the nodes cost sixteen times as much.
import {logFrequencies} from "../../src/engine/analysis/frequency-response.ts";
import {responseOf} from "../../src/engine/analysis/response-of.ts";
import {circuit, type Circuit} from "../../src/engine/circuit/circuit.ts";
import type {Part} from "../../src/engine/circuit/part.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

function ladder(nodes: number): Circuit {
  const parts: Part[] = [{kind: "voltage source", ref: "V", nodes: ["n0", "0"], volts: 0, signal: true}];
  for (let k = 1; k <= nodes; k++) {
    parts.push({kind: "resistor", ref: `R${k}`, nodes: [`n${k - 1}`, `n${k}`], ohms: 1e3});
    parts.push({kind: "capacitor", ref: `C${k}`, nodes: [`n${k}`, "0"], farads: 1e-9});
  }
  return circuit(parts);
}

const frequencies = logFrequencies(20, 20e3, 400);
const seconds = [5, 10, 20, 40, 80].map((nodes) => {
  const sweep = responseOf(ladder(nodes), `n${nodes}`);
  const each = shortestSeconds(() => Array.from({length: 20}, () => sweep(frequencies)), 15) / 20;
  console.log(`figure ladder-of-${nodes}-nodes,-microseconds-a-sweep ${(each * 1e6).toFixed(0)}`);
  return each;
});
// Linear is 1, and quadratic would be 0.06; 0.7 leaves room for caches and for whatever else the machine does.
console.log(`ratio linear-growth-from-5-to-80-nodes ${((16 * seconds[0]!) / seconds[4]!).toFixed(2)} 0.7`);
