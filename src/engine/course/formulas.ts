import type {Circuit} from "../circuit/circuit.ts";
import type {Part} from "../circuit/part.ts";
import {armOhms, variableOhms} from "../circuit/resistance.ts";

/** The formulas that the lessons teach, on the values of a circuit: what a reader would work out by hand. */

/** The part called `ref`, or undefined where the circuit has none. */
export const partOf = ({parts}: Circuit, ref: string): Part | undefined => parts.find((part) => part.ref === ref);

/** Resistance of the resistor called `ref` in ohms; Infinity where it is absent, since nothing conducts there. */
export function ohmsOf(circuit: Circuit, ref: string): number {
  const part = partOf(circuit, ref);
  return part?.kind === "resistor" ? part.ohms : Infinity;
}

/** Capacitance of the capacitor called `ref` in farads; 0 where it is absent. */
export function faradsOf(circuit: Circuit, ref: string): number {
  const part = partOf(circuit, ref);
  return part?.kind === "capacitor" ? part.farads : 0;
}

/** Inductance of the pickup in henries. */
export function pickupHenries(circuit: Circuit): number {
  const part = partOf(circuit, "pickup inductance");
  return part?.kind === "inductor" ? part.henries : 0;
}

/** Two or more resistances side by side, in ohms. */
export const parallelOhms = (...ohms: readonly number[]) => 1 / ohms.reduce((siemens, R) => siemens + 1 / R, 0);

/** Everything from the coil to ground in lesson 1: its own capacitance, the guitar's cable, the amplifier's; in farads. */
export const wireFarads = (circuit: Circuit) =>
  faradsOf(circuit, "pickup capacitance") + faradsOf(circuit, "cable") + faradsOf(circuit, "amplifier cable");

/** Resonance of pickup and cables in hertz, f = 1/(2π√(L·C)): network theory, losses left out. */
export const resonanceHz = (circuit: Circuit) =>
  1 / (2 * Math.PI * Math.sqrt(pickupHenries(circuit) * wireFarads(circuit)));

/** What follows C1 in lesson 2: R2 with the amplifier's input beside it, in ohms. */
export const loadOhms = (circuit: Circuit) =>
  parallelOhms(ohmsOf(circuit, "R2"), ohmsOf(circuit, "amplifier resistance"));

/** Corner of C1 with the resistors around it in hertz, f = 1/(2π(R1 + R2 ∥ amplifier)C1): network theory. */
export const inputCornerHz = (circuit: Circuit) =>
  1 / (2 * Math.PI * (ohmsOf(circuit, "R1") + loadOhms(circuit)) * faradsOf(circuit, "C1"));

/** What C1's filter makes of a bench of lesson 2, in numbers that its curve shows. */
export type InputFilter = Readonly<{
  /** Where 3 dB of the level are lost below, in hertz: the bend as it is, near the formula's corner or not. */
  bendHz: number;
  /** Level of the flat part above it, in decibels from the coil; −Infinity with the guitar's volume all the way down. */
  levelDb: number;
}>;

/**
 * C1's filter with what the formula of its corner leaves out: the guitar's own resistance before it, and the amplifier's cable
 * beside the load. Coil and cable of the guitar, which make the hump, are left out.
 *
 * Method: source resistance Rs, C1, then R with C beside it, H = sRC1/(1 + b1 s + b2 s²) with b1 = R(C1 + C) + Rs·C1 and
 * b2 = Rs·R·C1·C; its top is RC1/b1, and its lower −3 dB point 1/(2π(b1/2 + √(b1²/4 + b2))): network theory.
 */
export function inputFilter(circuit: Circuit): InputFilter {
  const [pickup, volume] = [ohmsOf(circuit, "pickup resistance"), partOf(circuit, "guitar volume")];
  const {upper, lower} = volume?.kind === "potentiometer" ? armOhms(volume) : {upper: 0, lower: Infinity};
  const [C1, C, R] = [faradsOf(circuit, "C1"), faradsOf(circuit, "amplifier cable"), loadOhms(circuit)];
  const Rs = ohmsOf(circuit, "R1") + parallelOhms(pickup + upper, lower);
  const [b1, b2] = [R * (C1 + C) + Rs * C1, Rs * R * C1 * C];
  const share = lower === Infinity ? 1 : lower / (pickup + upper + lower);
  return {
    bendHz: 1 / (2 * Math.PI * (b1 / 2 + Math.sqrt(b1 ** 2 / 4 + b2))),
    levelDb: 20 * Math.log10((share * R * C1) / b1),
  };
}

/** What is left of the gain control between its two ends in use, in ohms, its end resistance included; 0 where it is absent. */
export function gainOhms(circuit: Circuit): number {
  const part = partOf(circuit, "RV1");
  return part?.kind === "variable resistor" ? variableOhms(part) : 0;
}

/** Corner of the leg in hertz, f = 1/(2π·R3·C3): network theory. Above it the gain is what two resistors make it. */
export const legCornerHz = (circuit: Circuit) => 1 / (2 * Math.PI * ohmsOf(circuit, "R3") * faradsOf(circuit, "C3"));

/** Corner below which the gain settles towards one in hertz, f = 1/(2π(R3 + RV1)C3): network theory, ideal op-amp. */
export const lowerLegCornerHz = (circuit: Circuit) =>
  1 / (2 * Math.PI * (ohmsOf(circuit, "R3") + gainOhms(circuit)) * faradsOf(circuit, "C3"));

/** Gain of the stage far above its corners, 1 + RV1/R3, in volts per volt: network theory, ideal op-amp. */
export const fullGain = (circuit: Circuit) => 1 + gainOhms(circuit) / ohmsOf(circuit, "R3");
