// A clipping stage at full gain whose diodes stand in chains, two parts in a row each way, so that only diodes lead to the nodes
// between: there a step takes a slope of the laws into its linear part. A hot chord at 8 × 48 kHz; how many times faster than the
// sound lasts, as machine code and without. The mark is that of any circuit.
import {timeResponse} from "../../src/engine/analysis/time-response.ts";
import {circuit} from "../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../src/engine/circuit/models/op-amps.ts";
import type {NodeName, Part} from "../../src/engine/circuit/part.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [rateHz, soundSeconds] = [48_000, 0.5];
const diode = (ref: string, anode: NodeName, cathode: NodeName): Part => ({
  kind: "diode",
  ref,
  nodes: [anode, cathode],
  model: diodeModels.silicon,
  inSeries: 1,
});
const stage = circuit([
  {kind: "voltage source", ref: "V", nodes: ["p", "0"], volts: 0, signal: true},
  {kind: "op-amp", ref: "U1", nodes: ["p", "m", "o"], model: opAmpModels.ideal},
  {kind: "resistor", ref: "RV1", nodes: ["o", "m"], ohms: 330e3},
  {kind: "capacitor", ref: "C4", nodes: ["o", "m"], farads: 120e-12},
  ...[diode("D1", "o", "a"), diode("D2", "a", "m"), diode("D3", "m", "b"), diode("D4", "b", "o")],
  {kind: "resistor", ref: "R3", nodes: ["m", "n"], ohms: 3300},
  {kind: "capacitor", ref: "C3", nodes: ["n", "0"], farads: 68e-9},
  {kind: "resistor", ref: "R5", nodes: ["o", "t"], ohms: 1e3},
  {kind: "capacitor", ref: "C6", nodes: ["t", "0"], farads: 10e-9},
]);
const chord = phraseSamples("open chords left ringing", rateHz).subarray(0, rateHz * soundSeconds);
const signal = new Float64Array(chord).map((sample) => 0.6 * sample);
const timesRealTime = () => soundSeconds / shortestSeconds(() => timeResponse(stage, "t", signal, rateHz), 3);

console.log(`ratio diodes-in-chains,-times-real-time ${timesRealTime().toFixed(2)} 4`);
Reflect.deleteProperty(globalThis, "WebAssembly");
console.log(`figure diodes-in-chains-without-WebAssembly,-times-real-time ${timesRealTime().toFixed(2)}`);
