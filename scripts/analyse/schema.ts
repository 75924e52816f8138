// node scripts/analyse/schema.ts writes public/circuit.schema.json from the forms; a test holds the two together.
import {writeFileSync} from "node:fs";
import {join} from "node:path";
import {analysisForms, partForms, type Form} from "./forms.ts";

/** The JSON schema (draft 2020-12) of the form that `npm run analyse` reads. */
export function schema(): object {
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title: "A circuit and the analyses wanted of it",
    description: 'Values in SI units. Node "0" is ground. One source is marked as signal.',
    type: "object",
    required: ["parts", "analyses"],
    additionalProperties: false,
    properties: {
      $schema: {type: "string"},
      parts: {type: "array", minItems: 1, items: {oneOf: Object.entries(partForms).map(partSchema)}},
      analyses: {type: "array", minItems: 1, items: {$ref: "#/$defs/analysis"}},
    },
    $defs: {analysis: {oneOf: Object.entries(analysisForms).map(([kind, form]) => formSchema(kind, form))}},
  };
}

function partSchema([kind, form]: readonly [string, Form & {nodes: number}]): object {
  const node = {type: "string", minLength: 1};
  const nodes = {type: "array", items: node, minItems: form.nodes, maxItems: form.nodes};
  return formSchema(kind, form, {ref: node, nodes});
}

function formSchema(
  kind: string,
  {about, needs, may = {}}: Form,
  common: Readonly<Record<string, object>> = {},
): object {
  const fields = Object.entries({...needs, ...may}).map(([name, field]) => [name, field.schema]);
  return {
    description: about,
    type: "object",
    properties: {kind: {const: kind}, ...common, ...Object.fromEntries(fields)},
    required: ["kind", ...Object.keys(common), ...Object.keys(needs)],
    additionalProperties: false,
  };
}

if (process.argv[1] === import.meta.filename)
  writeFileSync(
    join(import.meta.dirname, "../../public/circuit.schema.json"),
    `${JSON.stringify(schema(), undefined, 2)}\n`,
  );
