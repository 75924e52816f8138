import {circuit, type Circuit} from "../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../src/engine/circuit/models/op-amps.ts";
import type {Part} from "../../src/engine/circuit/part.ts";

/** What was read is not in the form that public/circuit.schema.json describes. */
export class InputError extends Error {
  override name = "InputError";
}

type Fields = Readonly<Record<string, unknown>>;
type Kind = "text" | "number" | "switch" | "numbers" | "object" | "model" | "taper";
type Form = Readonly<{needs: Readonly<Record<string, Kind>>; may?: Readonly<Record<string, Kind>>}>;
const frequencies = {lowHz: "number", highHz: "number", points: "number", frequenciesHz: "numbers"} as const;

const partForms: Readonly<Record<Part["kind"], Form & {nodes: number}>> = {
  resistor: {nodes: 2, needs: {ohms: "number"}},
  capacitor: {nodes: 2, needs: {farads: "number"}},
  inductor: {nodes: 2, needs: {henries: "number"}},
  "variable resistor": {
    nodes: 2,
    needs: {ohms: "number", position: "number", taper: "taper", endOhms: "number"},
    may: {reversed: "switch"},
  },
  potentiometer: {nodes: 3, needs: {ohms: "number", position: "number", taper: "taper"}},
  "voltage source": {nodes: 2, needs: {volts: "number"}, may: {signal: "switch"}},
  "current source": {nodes: 2, needs: {amperes: "number"}, may: {signal: "switch"}},
  wire: {nodes: 2, needs: {}},
  diode: {nodes: 2, needs: {model: "model", inSeries: "number"}},
  "op-amp": {nodes: 3, needs: {model: "model"}, may: {supply: "object"}},
};

const analysisForms = {
  "operating point": {needs: {}},
  "frequency response": {needs: {output: "text"}, may: frequencies},
  corners: {needs: {output: "text"}, may: {lowHz: "number", highHz: "number", referenceDb: "number"}},
  "input impedance": {needs: {node: "text"}, may: frequencies},
  "output impedance": {needs: {node: "text"}, may: frequencies},
  noise: {needs: {output: "text"}, may: {lowHz: "number", highHz: "number"}},
  "time response": {
    needs: {output: "text", signalVolts: "numbers", sampleRateHz: "number"},
    may: {oversampling: "number"},
  },
} as const satisfies Readonly<Record<string, Form>>;

export type AnalysisKind = keyof typeof analysisForms;
/** One analysis that was asked for. Its fields hold what the form of its kind says. */
export type Analysis = Fields & Readonly<{kind: AnalysisKind}>;

/**
 * The circuit and the analyses that a text in our JSON form asks for.
 *
 * @throws {InputError} if the text is not in the form; the message says where
 * @throws {CircuitError} if it is, and the circuit cannot be built
 */
export function readInput(text: string): Readonly<{circuit: Circuit; analyses: readonly Analysis[]}> {
  const {parts, analyses, $schema, ...rest} = fieldsOf(parsed(text), "the file");
  if ($schema !== undefined && typeof $schema !== "string") throw new InputError("$schema must be a text");
  refuse(rest, "the file");
  const asked = rowOf(analyses, "analyses").map((each, index) => analysisOf(each, `analyses[${index}]`));
  return {
    circuit: circuit(rowOf(parts, "parts").map((each, index) => partOf(each, `parts[${index}]`))),
    analyses: asked,
  };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new InputError(`The file is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function partOf(given: unknown, where: string): Part {
  const fields = fieldsOf(given, where);
  const {kind, ref, nodes, ...own} = fields;
  if (typeof kind !== "string" || !Object.hasOwn(partForms, kind)) throw unknown(kind, "part", partForms, where);
  const form = partForms[kind as Part["kind"]];
  if (typeof ref !== "string") throw new InputError(`${where}: a part needs a ref, such as "R1"`);
  if (!Array.isArray(nodes) || nodes.length !== form.nodes || nodes.some((node) => typeof node !== "string")) {
    throw new InputError(`${ref}: nodes must be ${form.nodes} names, such as ["in", "0"]`);
  }
  check(own, form, ref);
  if (kind === "diode") return {...fields, model: modelOf(own["model"], diodeModels, ref)} as Part;
  if (kind !== "op-amp") return fields as Part;
  const {supply} = own;
  if (supply !== undefined)
    check(fieldsOf(supply, ref), {needs: {positive: "text", negative: "text"}}, `${ref} supply`);
  return {...fields, model: modelOf(own["model"], opAmpModels, ref)} as Part;
}

function modelOf(given: unknown, shelf: Readonly<Record<string, object>>, ref: string): unknown {
  const names = Object.keys(shelf);
  if (typeof given === "string") {
    if (Object.hasOwn(shelf, given)) return shelf[given];
    throw new InputError(`${ref}: "${given}" is not on the shelf; there are ${names.join(", ")}`);
  }
  const example = Object.values(shelf)[0] ?? {};
  const fields = fieldsOf(given, `${ref} model`);
  for (const [name, value] of Object.entries(example)) {
    const optional = !["name", "source", ...needed].includes(name);
    if (fields[name] === undefined && optional) continue;
    if (typeof fields[name] !== typeof value) throw new InputError(`${ref} model: ${name} must be a ${typeof value}`);
  }
  return fields;
}
const needed = [
  ...["saturationCurrent", "emissionCoefficient", "thermalVoltage", "seriesOhms"],
  ...["openLoopGain", "gainBandwidthHz", "inputOhms", "outputOhms"],
];

function analysisOf(given: unknown, where: string): Analysis {
  const fields = fieldsOf(given, where);
  const {kind, ...own} = fields;
  if (typeof kind !== "string" || !Object.hasOwn(analysisForms, kind))
    throw unknown(kind, "analysis", analysisForms, where);
  check(own, analysisForms[kind as AnalysisKind], `${where}, ${kind}`);
  return fields as Analysis;
}

function check(own: Fields, {needs, may = {}}: Form, where: string): void {
  for (const [name, kind] of Object.entries({...may, ...needs})) {
    const value = own[name];
    if (value === undefined && !Object.hasOwn(needs, name)) continue;
    if (!is[kind](value)) throw new InputError(`${where}: ${name} must be ${words[kind]}`);
  }
  refuse(Object.fromEntries(Object.entries(own).filter(([name]) => !(name in needs) && !(name in may))), where);
}

const number = (value: unknown): value is number => typeof value === "number" && Number.isFinite(value);
const object = (value: unknown) => typeof value === "object" && value !== null && !Array.isArray(value);
const is: Readonly<Record<Kind, (value: unknown) => boolean>> = {
  text: (value) => typeof value === "string",
  number,
  switch: (value) => typeof value === "boolean",
  numbers: (value) => Array.isArray(value) && value.length > 0 && value.every(number),
  object,
  model: (value) => typeof value === "string" || object(value),
  taper: (value) => value === "linear" || value === "audio" || value === "reverse audio",
};
const words: Readonly<Record<Kind, string>> = {
  text: "a text",
  number: "a number",
  switch: "true or false",
  numbers: "a row of one number or more",
  object: "an object",
  model: "the name of a model on the shelf, or its figures",
  taper: '"linear", "audio" or "reverse audio"',
};

function fieldsOf(given: unknown, where: string): Fields {
  if (!object(given)) throw new InputError(`${where} must be an object, such as {"kind": …}`);
  return given as Fields;
}

function rowOf(given: unknown, name: string): readonly unknown[] {
  if (Array.isArray(given) && given.length > 0) return given;
  throw new InputError(`The file needs "${name}", a row with at least one entry`);
}

function refuse(rest: Fields, where: string): void {
  const [name] = Object.keys(rest);
  if (name !== undefined) throw new InputError(`${where}: "${name}" is not a field of it; is it spelt right?`);
}

function unknown(kind: unknown, what: string, forms: object, where: string): InputError {
  return new InputError(
    `${where}: ${JSON.stringify(kind)} is no kind of ${what}; there are ${Object.keys(forms).join(", ")}`,
  );
}
