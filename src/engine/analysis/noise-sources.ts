import type {Circuit} from "../circuit/circuit.ts";
import type {NodeName} from "../circuit/part.ts";
import {armOhms, variableOhms} from "../circuit/resistance.ts";
import {evaluate, nonlinearities, type LawPoint} from "./nonlinearities.ts";
import type {OperatingPoint} from "./operating-point.ts";
import type {Unknown} from "./stamps.ts";

/** Boltzmann's constant in joules a kelvin, exact, and the elementary charge in coulombs, exact: SI since 2019. */
export const boltzmann = 1.380649e-23;
export const elementaryCharge = 1.602176634e-19;

export type NoiseKind = "thermal" | "shot" | "op-amp voltage" | "op-amp current, + input" | "op-amp current, − input";

/** One white source: where it drives the equations, and its density squared, in A²/Hz (V²/Hz for an op-amp's voltage and a source's own resistance). */
export type NoiseSource = Readonly<{
  ref: string;
  kind: NoiseKind;
  /** Row that the source drives, and the row it is taken from; −1 for ground. */
  into: Unknown;
  outOf: Unknown;
  squared: number;
}>;

/**
 * Every noise source of a circuit at rest.
 *
 * Resistors, those inside sources too: 4kT/R, Johnson and Nyquist (1928). Diodes: shot noise of both currents across the junction, 2q·(I + 2·Is), which at
 * 0 V is the thermal noise of the junction's slope; a row of k equal diodes counts as one with 1/k of it. Op-amps: en in series
 * with the + input, in from either input to ground, uncorrelated, white. All independent of each other.
 */
export function noiseSources(
  {parts}: Circuit,
  {stamps, x}: OperatingPoint,
  temperatureKelvin: number,
): readonly NoiseSource[] {
  const at = (node: NodeName): Unknown => stamps.unknownOf.get(node) ?? -1;
  const thermal = (ref: string, a: NodeName, b: NodeName, ohms: number): readonly NoiseSource[] =>
    ohms > 0
      ? [{ref, kind: "thermal", into: at(a), outOf: at(b), squared: (4 * boltzmann * temperatureKelvin) / ohms}]
      : [];
  return parts.flatMap((part): readonly NoiseSource[] => {
    switch (part.kind) {
      case "resistor":
        return thermal(part.ref, ...part.nodes, part.ohms);
      case "variable resistor":
        return thermal(part.ref, ...part.nodes, variableOhms(part));
      case "potentiometer": {
        const [top, wiper, bottom] = part.nodes;
        const {upper, lower} = armOhms(part);
        return [...thermal(part.ref, top, wiper, upper), ...thermal(part.ref, wiper, bottom, lower)];
      }
      case "voltage source": {
        // In the source's own equation noise is a voltage: 4kT·R.
        const squared = 4 * boltzmann * temperatureKelvin * (part.seriesOhms ?? 0);
        const into = stamps.branchOf.get(part.ref) ?? -1;
        return squared > 0 ? [{ref: part.ref, kind: "thermal", into, outOf: -1, squared}] : [];
      }
      case "diode": {
        const {ref, model, inSeries} = part;
        const [anode, cathode] = [at(part.nodes[0]), at(part.nodes[1])];
        const point: LawPoint = {value: 0, slope: 0};
        const law = nonlinearities(stamps).find((each) => each.ref === ref)?.law;
        if (law !== undefined) evaluate(law, (x[anode] ?? 0) - (x[cathode] ?? 0), point);
        const squared =
          (2 * elementaryCharge * (Math.max(point.value, -model.saturationCurrent) + 2 * model.saturationCurrent)) /
          inSeries;
        return [{ref, kind: "shot", into: anode, outOf: cathode, squared}];
      }
      case "op-amp": {
        const {ref, model} = part;
        const {voltageNoise = 0, currentNoise = 0} = model;
        return [
          {ref, kind: "op-amp voltage", into: stamps.branchOf.get(ref) ?? -1, outOf: -1, squared: voltageNoise ** 2},
          {ref, kind: "op-amp current, + input", into: at(part.nodes[0]), outOf: -1, squared: currentNoise ** 2},
          {ref, kind: "op-amp current, − input", into: at(part.nodes[1]), outOf: -1, squared: currentNoise ** 2},
        ];
      }
      default:
        return [];
    }
  });
}
