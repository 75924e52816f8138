import {circuit, type Circuit} from "../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../src/engine/circuit/models/op-amps.ts";
import type {Part} from "../../src/engine/circuit/part.ts";
import {isObject} from "./fields.ts";
import {analysisForms, partForms, type AnalysisKind, type Form} from "./forms.ts";

/** What was read is not in the form that public/circuit.schema.json describes. */
export class InputError extends Error {
  override name = "InputError";
}

type Fields = Readonly<Record<string, unknown>>;

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
  if (kind === "op-amp") return {...fields, model: modelOf(own["model"], opAmpModels, ref)} as Part;
  return fields as Part;
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
  refuse(Object.fromEntries(Object.entries(fields).filter(([name]) => !(name in example))), `${ref} model`);
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
  if (kind !== "fault") return fields as Analysis;
  const inner = rowOf(own["analyses"], `${where}.analyses`);
  return {...fields, kind, analyses: inner.map((each, index) => analysisOf(each, `${where}.analyses[${index}]`))};
}

function check(own: Fields, {needs, may = {}}: Form, where: string): void {
  for (const [name, {holds, words}] of Object.entries({...may, ...needs})) {
    const value = own[name];
    if (value === undefined && !Object.hasOwn(needs, name)) continue;
    if (!holds(value)) throw new InputError(`${where}: ${name} must be ${words}`);
  }
  refuse(Object.fromEntries(Object.entries(own).filter(([name]) => !(name in needs) && !(name in may))), where);
}

function fieldsOf(given: unknown, where: string): Fields {
  if (!isObject(given)) throw new InputError(`${where} must be an object, such as {"kind": …}`);
  return given;
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
