import {diodeModels} from "../circuit/models/diodes.ts";
import {opAmpModels} from "../circuit/models/op-amps.ts";
import type {Diode, NodeName, Part, Taper} from "../circuit/part.ts";

type Two = readonly [NodeName, NodeName];

const resistor = (ref: string, nodes: Two, ohms: number): Part => ({kind: "resistor", ref, nodes, ohms});
const capacitor = (ref: string, nodes: Two, farads: number): Part => ({kind: "capacitor", ref, nodes, farads});
const diode = (ref: string, nodes: Two, model: Diode["model"]): Part => ({
  kind: "diode",
  ref,
  nodes,
  model,
  inSeries: 1,
});
const pot = (
  ref: string,
  nodes: readonly [NodeName, NodeName, NodeName],
  ohms: number,
  position: number,
  taper: Taper,
): Part => ({
  kind: "potentiometer",
  ref,
  nodes,
  ohms,
  position,
  taper,
});
const rheostat = (ref: string, nodes: Two, ohms: number, position: number, reversed = false): Part => ({
  kind: "variable resistor",
  ref,
  nodes,
  ohms,
  position,
  taper: "linear",
  endOhms: variableEndOhms,
  reversed,
});

/** What a variable resistor keeps at its stop, in ohms. */
export const variableEndOhms = 50;

/** Capacitance of a guitar or amplifier cable, in farads a metre. */
export const cableFaradsPerMetre = 100e-12;

/** Every part of the course overdrive and of what it stands between, where the whole pedal has it, at its start value. */
export const courseParts: readonly Part[] = [
  {kind: "voltage source", ref: "guitar", nodes: ["vs", "0"], volts: 0, signal: true},
  resistor("pickup resistance", ["vs", "x"], 6.8e3),
  {kind: "inductor", ref: "pickup inductance", nodes: ["x", "y"], henries: 2.6},
  capacitor("pickup capacitance", ["y", "0"], 100e-12),
  pot("guitar volume", ["y", "in", "0"], 250e3, 1, "linear"),
  capacitor("cable", ["in", "0"], 4.7 * cableFaradsPerMetre),
  resistor("R1", ["in", "a"], 4.7e3),
  capacitor("C1", ["a", "p"], 33e-9),
  resistor("R2", ["p", "ref"], 1e6),
  {kind: "voltage source", ref: "battery", nodes: ["supply", "0"], volts: 9},
  diode("D3", ["supply", "vcc"], diodeModels.rectifier),
  resistor("R8", ["vcc", "ref"], 22e3),
  resistor("R9", ["ref", "0"], 22e3),
  capacitor("C8", ["ref", "0"], 47e-6),
  {
    kind: "op-amp",
    ref: "U1",
    nodes: ["p", "m", "o"],
    supply: {positive: "vcc", negative: "0"},
    model: opAmpModels.tl072,
  },
  {kind: "wire", ref: "U1 feedback", nodes: ["o", "m"]},
  rheostat("RV1", ["o", "m"], 330e3, 0.5),
  resistor("R3", ["m", "n"], 3.3e3),
  capacitor("C3", ["n", "0"], 68e-9),
  capacitor("C4", ["o", "m"], 120e-12),
  diode("D1", ["o", "m"], diodeModels.silicon),
  diode("D2", ["m", "o"], diodeModels.silicon),
  resistor("R5", ["o", "q"], 1e3),
  // Turned up, the tone control is bright: its resistance to the capacitor falls as the knob rises.
  rheostat("RV3", ["q", "t"], 20e3, 0.5, true),
  capacitor("C6", ["t", "0"], 10e-9),
  capacitor("bench coupling", ["o", "w"], 1e-6),
  capacitor("C5", ["t", "w"], 1e-6),
  pot("RV2", ["w", "out", "0"], 100e3, 1, "audio"),
  resistor("amplifier resistance", ["out", "0"], 1e6),
  capacitor("amplifier cable", ["out", "0"], 3 * cableFaradsPerMetre),
];
