import {diodeModels} from "../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../src/engine/circuit/models/op-amps.ts";
import type {DiodeModel, Part} from "../../src/engine/circuit/part.ts";

// The course's stages as the published tables state them: ideal op-amp, ground for the reference, diodes without series
// resistance, RV1 with 50 Ω at its stop, RV3 with none.

const diode: DiodeModel = {...diodeModels.silicon, seriesOhms: 0};

export const resistor = (ref: string, a: string, b: string, ohms: number): Part => ({
  kind: "resistor",
  ref,
  nodes: [a, b],
  ohms,
});

export const capacitor = (ref: string, a: string, b: string, farads: number): Part => ({
  kind: "capacitor",
  ref,
  nodes: [a, b],
  farads,
});

export const signalAt = (node: string, volts = 0): Part => ({
  kind: "voltage source",
  ref: "V",
  nodes: [node, "0"],
  volts,
  signal: true,
});

/** A source that stays as it is, against ground. */
export const supplyAt = (ref: string, node: string, volts: number): Part => ({
  kind: "voltage source",
  ref,
  nodes: [node, "0"],
  volts,
});

/** A diode each way. */
export const pair = (a: string, b: string): readonly Part[] => [
  {kind: "diode", ref: "D1", nodes: [a, b], model: diode, inSeries: 1},
  {kind: "diode", ref: "D2", nodes: [b, a], model: diode, inSeries: 1},
];

/** Node g to node p. */
export const inputNetwork: readonly Part[] = [
  resistor("R1", "g", "a", 4.7e3),
  capacitor("C1", "a", "p", 33e-9),
  resistor("R2", "p", "0", 1e6),
];

/** Node p to node o. C3 of undefined is a short, C4 of undefined is absent. */
export function gainStage(position: number, C3: number | undefined, C4: number | undefined): readonly Part[] {
  return [
    {kind: "op-amp", ref: "U1", nodes: ["p", "m", "o"], model: opAmpModels.ideal},
    resistor("RV1", "o", "m", 330e3 * position + 50),
    resistor("R3", "m", C3 === undefined ? "0" : "n", 3.3e3),
    ...(C3 === undefined ? [] : [capacitor("C3", "n", "0", C3)]),
    ...(C4 === undefined ? [] : [capacitor("C4", "o", "m", C4)]),
  ];
}

/** Node o to node out: tone, volume as a fraction of its track, and the amplifier. */
export const toneAndVolume = (tone: number, C6: number, fraction: number): readonly Part[] => [
  resistor("R5 and RV3", "o", "t", 1e3 + 20e3 * (1 - tone)),
  capacitor("C6", "t", "0", C6),
  capacitor("C5", "t", "w", 1e-6),
  {
    kind: "potentiometer",
    ref: "RV2",
    nodes: ["w", "out", "0"],
    ohms: 100e3,
    position: fraction,
    taper: "linear",
  },
  resistor("amplifier", "out", "0", 1e6),
  capacitor("cable", "out", "0", 300e-12),
];
