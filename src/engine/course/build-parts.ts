import {circuit, type Circuit} from "../circuit/circuit.ts";
import {diodeModels} from "../circuit/models/diodes.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import {courseCircuit, type BenchSetting} from "./course-circuit.ts";

const resistor = (ref: string, a: NodeName, b: NodeName, ohms: number): Part => ({
  kind: "resistor",
  ref,
  nodes: [a, b],
  ohms,
});
const capacitor = (ref: string, a: NodeName, b: NodeName, farads: number): Part => ({
  kind: "capacitor",
  ref,
  nodes: [a, b],
  farads,
});

/** Resistance inside a fresh 9 V alkaline battery, in ohms: common practice, no published source. */
export const batteryOhms = 2;

/**
 * Parts that a build has and the signal model leaves out: pull-downs at both jacks, the indicator and its resistor, capacitors on the
 * supply, and the bypass switch while the pedal is on, a closed contact to the output jack. Values: common practice, no published
 * source. All but R4, which takes a little off the pickup's peak, change the level by less than 0.1 dB. The unused half of U1 is the
 * circuit's own, see `builtCircuit`.
 */
export const buildParts: readonly Part[] = [
  resistor("R4", "in", "0", 2.2e6),
  resistor("R6", "output jack", "0", 2.2e6),
  resistor("R7", "vcc", "lamp", 4.7e3),
  {kind: "diode", ref: "LED", nodes: ["lamp", "0"], model: diodeModels.redLed, inSeries: 1},
  capacitor("C7", "vcc", "0", 100e-9),
  capacitor("C9", "vcc", "0", 100e-6),
  {kind: "wire", ref: "S1", nodes: ["out", "output jack"]},
];

/**
 * The pedal as it is built: a lesson's circuit with `buildParts`, the unused half of U1 tied as a follower to the reference, and a
 * battery with a resistance inside. The amplifier hangs on the output jack.
 *
 * @param setting of lesson 14 or later: those that have the whole pedal
 * @throws as `courseCircuit`, and {CircuitError} for a lesson without U1, supply or output
 */
export function builtCircuit(setting: BenchSetting): Circuit {
  const {parts} = courseCircuit(setting).circuit;
  const built = parts.map((part): Part => {
    if (part.ref.startsWith("amplifier")) return {...part, nodes: ["output jack", "0"]} as Part;
    return part.ref === "battery" && part.kind === "voltage source" ? {...part, seriesOhms: batteryOhms} : part;
  });
  const half = parts.find((part) => part.kind === "op-amp");
  const unused = half === undefined ? [] : [{...half, ref: "U1 unused", nodes: ["ref", "spare", "spare"]} as Part];
  return circuit([...built, ...buildParts, ...unused]);
}
