import {circuit, type Circuit} from "../../src/engine/circuit/circuit.ts";
import type {DiodeModel, OpAmpModel, Part} from "../../src/engine/circuit/part.ts";
import type {NetlistEntry, ReferenceCase} from "./cases.ts";

/**
 * The circuit of a reference case in our own parts. The case's source becomes the signal, with no steady part; every other
 * source keeps its steady value.
 *
 * @throws {Error} for a kind of part or a form of value that the reader does not know
 */
export function readCircuit({id, netlist, source}: ReferenceCase): Circuit {
  if (netlist === null) throw new Error(`${id}: the case has no netlist`);
  return circuit(netlist.map((entry) => readPart(id, entry, source?.["ref"] === entry.ref)));
}

/** Name of the case's single probe node. @throws {Error} if it has none */
export function probeNode({id, probes}: ReferenceCase): string {
  const node = probes.find((probe) => typeof probe["node"] === "string")?.["node"];
  if (typeof node !== "string") throw new Error(`${id}: no probe names a node`);
  return node;
}

/** A row of numbers inside a case. @throws {Error} if what is given is anything else */
export function numbers(id: string, given: unknown): Float64Array {
  if (!Array.isArray(given) || given.some((value) => typeof value !== "number"))
    throw new Error(`${id}: expected a row of numbers`);
  return Float64Array.from(given as number[]);
}

function readPart(id: string, {ref, kind, nodes, value, params = {}}: NetlistEntry, isSource: boolean): Part {
  const [a = "", b = "", c = ""] = nodes;
  const count = {potentiometer: 3, opamp: 3}[kind] ?? 2;
  if (nodes.length !== count) throw new Error(`${id}: ${ref} needs ${count} nodes, got ${nodes.length}`);
  const own = (): number => number(id, ref, value ?? params["value"]);
  switch (kind) {
    case "resistor": {
      const ohms = own();
      return ohms === 0 ? {kind: "wire", ref, nodes: [a, b]} : {kind: "resistor", ref, nodes: [a, b], ohms};
    }
    case "capacitor":
      return {kind: "capacitor", ref, nodes: [a, b], farads: own()};
    case "inductor":
      return {kind: "inductor", ref, nodes: [a, b], henries: own()};
    case "voltage_source":
      return {kind: "voltage source", ref, nodes: [a, b], ...drive(id, ref, value, isSource, "volts")};
    case "current_source":
      return {kind: "current source", ref, nodes: [a, b], ...drive(id, ref, value, isSource, "amperes")};
    case "rheostat": {
      const [ohms, position, endOhms] = [params["full"], params["position"], params["residual"]].map((each) =>
        number(id, ref, each),
      );
      const resistance = number(id, ref, params["resistance"]);
      if (ohms === undefined || position === undefined || endOhms === undefined)
        throw new Error(`${id}: ${ref} lacks a figure`);
      const reversed = [false, true].find(
        (turned) => Math.abs(ohms * (turned ? 1 - position : position) + endOhms - resistance) <= 1e-9 * ohms,
      );
      if (reversed === undefined)
        throw new Error(`${id}: ${ref} follows a law this reader does not know: ${String(params["law"])}`);
      if (ohms === 0 || resistance === 0) return {kind: "wire", ref, nodes: [a, b]};
      return {kind: "variable resistor", ref, nodes: [a, b], ohms, position, taper: "linear", endOhms, reversed};
    }
    case "potentiometer": {
      const ohms = number(id, ref, params["total"]);
      const lower = number(id, ref, params["lower"]);
      const position = number(id, ref, params["position"]);
      if (Math.abs(ohms * position - lower) > 1e-9 * ohms) throw new Error(`${id}: ${ref} is not linear`);
      return {kind: "potentiometer", ref, nodes: [a, b, c], ohms, position, taper: "linear"};
    }
    case "diode":
      return {kind: "diode", ref, nodes: [a, b], model: readDiode(id, ref, params), inSeries: 1};
    case "opamp":
      return {kind: "op-amp", ref, nodes: [a, b, c], model: readOpAmp(id, ref, params)};
    default:
      throw new Error(`${id}: ${ref} is a "${kind}", which this reader does not know`);
  }
}

type Drive<K extends string> = {[key in K]: number} & {signal?: true};

/** What a source gives: the signal (its steady part left out), or a steady value. */
function drive<K extends string>(id: string, ref: string, value: unknown, isSource: boolean, unit: K): Drive<K> {
  if (value === "ac 0") return {[unit]: 0} as Drive<K>;
  if (typeof value === "number" && !isSource) return {[unit]: value} as Drive<K>;
  if (isSource)
    return {
      [unit]: typeof value === "number" ? value : 0,
      ...(typeof value === "string" ? {signal: true} : {}),
    } as Drive<K>;
  throw new Error(`${id}: ${ref} gives "${String(value)}", but is not the case's source`);
}

function readDiode(id: string, ref: string, params: Readonly<Record<string, unknown>>): DiodeModel {
  return {
    name: "reference",
    saturationCurrent: number(id, ref, params["Is"]),
    emissionCoefficient: number(id, ref, params["n"]),
    thermalVoltage: number(id, ref, params["VT"]),
    seriesOhms: number(id, ref, params["Rs"] ?? 0),
    source: "illustrative set of the reference data",
  };
}

function readOpAmp(id: string, ref: string, params: Readonly<Record<string, unknown>>): OpAmpModel {
  const inputOhms =
    params["Rin"] === undefined || params["Rin"] === "infinite" ? Infinity : number(id, ref, params["Rin"]);
  const outputOhms = number(id, ref, params["Rout"] ?? 0);
  const common = {name: "reference", inputOhms, outputOhms, source: "reference case"};
  if (params["model"] === "ideal") return {...common, openLoopGain: Infinity, gainBandwidthHz: Infinity};
  if (params["model"] !== "single_pole")
    throw new Error(`${id}: ${ref} is an op-amp of unknown model "${String(params["model"])}"`);
  return {...common, openLoopGain: number(id, ref, params["A0"]), gainBandwidthHz: number(id, ref, params["GBW"])};
}

function number(id: string, ref: string, value: unknown): number {
  if (typeof value === "number") return value;
  throw new Error(`${id}: ${ref} needs a number, got ${JSON.stringify(value)}`);
}
