// npm run analyse -- FILE.json: analyses of a circuit of your own, printed as JSON. Bad input: a sentence and exit status 2.
import {readFileSync} from "node:fs";
import {resolve} from "node:path";
import {analysed} from "./analyse/analysed.ts";
import {InputError, readInput} from "./analyse/read-input.ts";
import {CircuitError} from "../src/engine/circuit/circuit-error.ts";

const [file, ...more] = process.argv.slice(2);

function textOf(path: string | undefined): string {
  if (path === undefined || more.length > 0) throw new InputError("Name one file: npm run analyse -- FILE.json");
  try {
    // npm runs scripts in the project's folder and says in INIT_CWD where it was called.
    return readFileSync(resolve(process.env["INIT_CWD"] ?? ".", path), "utf8");
  } catch {
    throw new InputError(`${path} cannot be read; is the path right?`);
  }
}

/** Rows as rows; what has no finite number, a level of silence in decibels or an open impedance, is null in JSON. */
const plain = (_: string, value: unknown): unknown => (value instanceof Float64Array ? [...value] : value);

try {
  const {circuit, analyses} = readInput(textOf(file));
  const results = analyses.map((each) => ({...each, result: analysed(circuit, each)}));
  process.stdout.write(`${JSON.stringify({nodes: circuit.nodes, results}, plain, 2)}\n`);
} catch (error) {
  if (!(error instanceof InputError || error instanceof CircuitError || error instanceof RangeError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
