import {
  frequencyResponse,
  logFrequencies,
  magnitudeDb,
  phaseDegrees,
} from "../../src/engine/analysis/frequency-response.ts";
import {inputImpedance, outputImpedance} from "../../src/engine/analysis/impedance.ts";
import {integratedNoise, noiseDensity} from "../../src/engine/analysis/noise.ts";
import {operatingPoint, restCurrent, restVoltage} from "../../src/engine/analysis/operating-point.ts";
import {responseCorners} from "../../src/engine/analysis/response-corners.ts";
import {timeResponse} from "../../src/engine/analysis/time-response.ts";
import {requireNode, type Circuit} from "../../src/engine/circuit/circuit.ts";
import type {Analysis} from "./read-input.ts";

/** The result of one analysis as plain data, SI units. Throws what the analysis throws. */
export function analysed(circuit: Circuit, asked: Analysis): object {
  const output = String(asked["output"] ?? asked["node"]);
  switch (asked.kind) {
    case "operating point": {
      const rest = operatingPoint(circuit);
      const currents = circuit.parts.flatMap(({ref}) => {
        const amperes = restCurrent(rest, ref);
        return amperes === undefined ? [] : [[ref, amperes]];
      });
      return {
        volts: Object.fromEntries(circuit.nodes.map((node) => [node, restVoltage(rest, node)])),
        amperes: Object.fromEntries(currents),
        residualAmperes: rest.residualAmperes,
      };
    }
    case "frequency response": {
      const frequenciesHz = frequenciesOf(asked);
      const response = frequencyResponse(circuit, output, frequenciesHz);
      return plain({frequenciesHz, ...response, gainDb: magnitudeDb(response), phaseDegrees: phaseDegrees(response)});
    }
    case "corners":
      return responseCorners(circuit, output, optional(asked, ["lowHz", "highHz", "referenceDb"]));
    case "input impedance":
    case "output impedance": {
      const frequenciesHz = frequenciesOf(asked);
      const impedance = asked.kind === "input impedance" ? inputImpedance : outputImpedance;
      return plain({frequenciesHz, ...impedance(circuit, requireNode(circuit, output), frequenciesHz)});
    }
    case "noise": {
      const ends = optional(asked, ["lowHz", "highHz"]);
      const frequenciesHz = logFrequencies(ends["lowHz"] ?? 20, ends["highHz"] ?? 20e3, 61);
      const {volts, aWeightedVolts, shares} = integratedNoise(circuit, output, ends);
      const {density} = noiseDensity(circuit, output, frequenciesHz);
      return {volts, aWeightedVolts, shares, ...plain({frequenciesHz, voltsPerRootHertz: density})};
    }
    case "time response": {
      const signal = Float64Array.from(asked["signalVolts"] as readonly number[]);
      const volts = timeResponse(
        circuit,
        output,
        signal,
        Number(asked["sampleRateHz"]),
        optional(asked, ["oversampling"]),
      );
      return plain({volts});
    }
  }
}

function frequenciesOf(asked: Analysis): Float64Array {
  const row = asked["frequenciesHz"];
  if (Array.isArray(row)) return Float64Array.from(row as readonly number[]);
  const {lowHz = 20, highHz = 20e3, points = 61} = optional(asked, ["lowHz", "highHz", "points"]);
  return logFrequencies(lowHz, highHz, points);
}

function optional<Name extends string>(asked: Analysis, names: readonly Name[]): Partial<Record<Name, number>> {
  const given = names.filter((name) => typeof asked[name] === "number");
  return Object.fromEntries(given.map((name) => [name, asked[name]])) as Partial<Record<Name, number>>;
}

function plain(rows: Readonly<Record<string, Float64Array>>): Record<string, number[]> {
  return Object.fromEntries(Object.entries(rows).map(([name, row]) => [name, [...row]]));
}
