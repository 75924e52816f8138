import {compression, compressionPoint} from "../../src/engine/analysis/compression.ts";
import {
  frequencyResponse,
  logFrequencies,
  magnitudeDb,
  phaseDegrees,
} from "../../src/engine/analysis/frequency-response.ts";
import {groupDelay} from "../../src/engine/analysis/group-delay.ts";
import {inputImpedance, outputImpedance} from "../../src/engine/analysis/impedance.ts";
import {levelResponse} from "../../src/engine/analysis/level-response.ts";
import {levelSweep} from "../../src/engine/analysis/level-sweep.ts";
import {integratedNoise, noiseDensity} from "../../src/engine/analysis/noise.ts";
import {operatingPoint, restCurrent, restVoltage} from "../../src/engine/analysis/operating-point.ts";
import {preciseTimeResponse} from "../../src/engine/analysis/precise-time-response.ts";
import {responseCorners, responseShelf} from "../../src/engine/analysis/response-corners.ts";
import {cornerSensitivities, sensitivities} from "../../src/engine/analysis/sensitivity.ts";
import {timeResponse} from "../../src/engine/analysis/time-response.ts";
import {monteCarlo, usualTolerances, whichPartPays, worstCase} from "../../src/engine/analysis/tolerance.ts";
import {twoTone} from "../../src/engine/analysis/two-tone.ts";
import {buyable} from "../../src/engine/circuit/buyable.ts";
import {valueOf} from "../../src/engine/circuit/changes.ts";
import {CircuitError} from "../../src/engine/circuit/circuit-error.ts";
import {requireNode, type Circuit} from "../../src/engine/circuit/circuit.ts";
import {withFault, type Fault} from "../../src/engine/circuit/faults.ts";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {cycleReport} from "./cycle-report.ts";
import type {Analysis} from "./read-input.ts";

/** The result of one analysis as plain data, SI units; arrays may be typed ones. Throws what the analysis throws. */
export function analysed(circuit: Circuit, asked: Analysis): unknown {
  const output = String(asked["output"] ?? asked["node"]);
  const number = (name: string) => Number(asked[name]);
  const row = (name: string) => Float64Array.from(asked[name] as readonly number[]);
  switch (asked.kind) {
    case "operating point":
      return rest(circuit);
    case "static transfer": {
      const signalVolts = row("signalVolts");
      const at = (signal: number) => restVoltage(operatingPoint(circuit, {signal}), requireNode(circuit, output));
      return {signalVolts, volts: signalVolts.map(at)};
    }
    case "frequency response": {
      const frequenciesHz = frequenciesOf(asked);
      const response = frequencyResponse(circuit, output, frequenciesHz);
      return {
        frequenciesHz,
        ...response,
        gainDb: magnitudeDb(response),
        phaseDegrees: phaseDegrees(response),
        groupDelaySeconds: groupDelay(circuit, output, frequenciesHz),
      };
    }
    case "corners":
      return responseCorners(circuit, output, optional(asked, ["lowHz", "highHz", "referenceDb"]));
    case "shelf":
      return responseShelf(circuit, output, optional(asked, ["lowHz", "highHz"])) ?? null;
    case "input impedance":
    case "output impedance": {
      const frequenciesHz = frequenciesOf(asked);
      const impedance = asked.kind === "input impedance" ? inputImpedance : outputImpedance;
      return {frequenciesHz, ...impedance(circuit, requireNode(circuit, output), frequenciesHz)};
    }
    case "noise": {
      const ends = optional(asked, ["lowHz", "highHz"]);
      const frequenciesHz = logFrequencies(ends["lowHz"] ?? 20, ends["highHz"] ?? 20e3, 61);
      const {volts, aWeightedVolts, shares} = integratedNoise(circuit, output, ends);
      const {density} = noiseDensity(circuit, output, frequenciesHz);
      return {volts, aWeightedVolts, shares, frequenciesHz, voltsPerRootHertz: density};
    }
    case "time response":
    case "loudness": {
      const rate = number("sampleRateHz");
      const volts = responseOf(asked, circuit, output, row("signalVolts"), rate);
      return asked.kind === "loudness" ? {lufs: integratedLoudness(volts, rate)} : {volts};
    }
    case "settled cycle":
      return cycleReport(
        circuit,
        output,
        number("frequencyHz"),
        number("peakVolts"),
        optional(asked, ["points"]).points,
      );
    case "level sweep":
      return {peaksVolts: row("peaksVolts"), ...levelSweep(circuit, output, number("frequencyHz"), row("peaksVolts"))};
    case "compression": {
      const frequencyHz = number("frequencyHz");
      const point = compressionPoint(circuit, output, frequencyHz) ?? null;
      return {...compression(circuit, output, frequencyHz, row("peaksVolts")), oneDecibelPointVolts: point};
    }
    case "level response": {
      const frequenciesHz = frequenciesOf(asked);
      const peaksVolts = row("peaksVolts");
      return {frequenciesHz, peaksVolts, gainDb: levelResponse(circuit, output, frequenciesHz, peaksVolts)};
    }
    case "two tones": {
      const tones = {
        lowHz: number("lowHz"),
        highHz: number("highHz"),
        lowPeakVolts: number("lowPeakVolts"),
        highPeakVolts: number("highPeakVolts"),
      };
      const {commonHz, products, intermodulation} = twoTone(circuit, output, tones, optional(asked, ["order"]));
      return {commonHz, products, intermodulation};
    }
    case "sensitivity": {
      const frequenciesHz = frequenciesOf(asked);
      const corner = (side: "low" | "high") => cornerSensitivities(circuit, output, side) ?? null;
      return {
        frequenciesHz,
        gain: sensitivities(circuit, output, frequenciesHz),
        lowCorner: corner("low"),
        highCorner: corner("high"),
      };
    }
    case "tolerance":
      return tolerance(circuit, output, asked);
    case "nearest values":
      return Object.fromEntries(
        buyable(circuit).parts.flatMap((part, k) => {
          const [value, given] = [valueOf(part), valueOf(circuit.parts[k] ?? part)];
          return value === undefined ? [] : [[part.ref, {given, nearest: value}]];
        }),
      );
    case "fault": {
      const broken = withFault(circuit, faultOf(asked));
      return (asked["analyses"] as readonly Analysis[]).map((each) => ({...each, result: analysed(broken, each)}));
    }
  }
}

function rest(circuit: Circuit): object {
  const point = operatingPoint(circuit);
  const currents = circuit.parts.flatMap(({ref}) => {
    const amperes = restCurrent(point, ref);
    return amperes === undefined ? [] : [[ref, amperes]];
  });
  return {
    volts: Object.fromEntries(circuit.nodes.map((node) => [node, restVoltage(point, node)])),
    amperes: Object.fromEntries(currents),
    residualAmperes: point.residualAmperes,
  };
}

function tolerance(circuit: Circuit, output: string, asked: Analysis): object {
  const frequenciesHz = frequenciesOf(asked);
  const given = {...pick(asked, "byKind"), ...pick(asked, "byRef")};
  const tolerances = Object.keys(given).length > 0 ? given : usualTolerances;
  const gainDb = (of: Circuit) => magnitudeDb(frequencyResponse(of, output, frequenciesHz));
  return {
    frequenciesHz,
    tolerances,
    worstCaseDb: worstCase(circuit, tolerances, gainDb),
    bandsDb: monteCarlo(circuit, tolerances, gainDb, optional(asked, ["runs", "seed"])),
    whichPartPays: whichPartPays(circuit, output, frequenciesHz, tolerances),
  };
}

const pick = (asked: Analysis, name: string) => (asked[name] === undefined ? {} : {[name]: asked[name]});

function faultOf(asked: Analysis): Fault {
  const {ref, fault, value} = asked;
  if (fault === "wrong value" && value === undefined)
    throw new CircuitError(`${String(ref)}: a wrong value needs "value", what was put in by mistake`, {
      ref: String(ref),
    });
  return {ref, kind: fault, ...optional(asked, ["value", "ohms"])} as Fault;
}

function frequenciesOf(asked: Analysis): Float64Array {
  const given = asked["frequenciesHz"];
  if (Array.isArray(given)) return Float64Array.from(given as readonly number[]);
  const {lowHz = 20, highHz = 20e3, points = 61} = optional(asked, ["lowHz", "highHz", "points"]);
  return logFrequencies(lowHz, highHz, points);
}

/** Volts over time, in steps at a rate or within a tolerance. */
function responseOf(asked: Analysis, circuit: Circuit, output: string, signal: Float64Array, rate: number) {
  const {oversampling, tolerance} = optional(asked, ["oversampling", "tolerance"]);
  if (oversampling !== undefined && tolerance !== undefined)
    throw new RangeError(`a ${asked.kind} takes an oversampling or a tolerance; leave one of them out`);
  if (tolerance !== undefined) return preciseTimeResponse(circuit, output, signal, rate, {tolerance});
  const onHeld = (seconds: number): never => {
    throw new CircuitError(`the time response finds no solution near ${seconds.toPrecision(3)} s`);
  };
  return timeResponse(circuit, output, signal, rate, oversampling === undefined ? {onHeld} : {oversampling, onHeld});
}

function optional<Name extends string>(asked: Analysis, names: readonly Name[]): Partial<Record<Name, number>> {
  const given = names.filter((name) => typeof asked[name] === "number");
  return Object.fromEntries(given.map((name) => [name, asked[name]])) as Partial<Record<Name, number>>;
}
