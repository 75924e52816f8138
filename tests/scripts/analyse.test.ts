import {readFileSync} from "node:fs";
import {execFile} from "node:child_process";
import {join} from "node:path";
import {describe, expect, test} from "vitest";
import {analysed} from "../../scripts/analyse/analysed.ts";
import {readInput} from "../../scripts/analyse/read-input.ts";

const root = join(import.meta.dirname, "..", "..");
const guide = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
const example = /```json\n([\s\S]*?)```/.exec(guide)?.[1] ?? "";

const exactly = (sentence: string) => expect.objectContaining({message: sentence});

describe("npm run analyse", () => {
  test("the guide's example gives the corner of a high-pass, 1/(2πRC)", () => {
    const {circuit, analyses} = readInput(example);
    const corners = analyses.find(({kind}) => kind === "corners");
    if (!corners) throw new Error("the guide's example asks for no corners");
    // Closed form; the search stops at 1e-9 of the frequency.
    expect(analysed(circuit, corners)).toMatchObject({low: expect.closeTo(1 / (2 * Math.PI * 1e6 * 33e-9), 6)});
  });

  test("every analysis of the example answers in finite numbers", () => {
    const {circuit, analyses} = readInput(example);
    expect(analyses.length).toBe(4);
    for (const asked of analyses) expect(JSON.stringify(analysed(circuit, asked))).not.toMatch(/null|NaN/);
  });

  test.each([
    ['"farads": 33e-9', '"farads": -68e-9', "C1: capacitance must be positive, got -68 nF; leave the part out for 0 F"],
    ['"farads": 33e-9', '"farads": "33n"', "C1: farads must be a number"],
    ['"farads": 33e-9', '"ohms": 33', "C1: farads must be a number"],
    ['"ref": "C1", ', "", 'parts[1]: a part needs a ref, such as "R1"'],
    ['["in", "out"]', '["in"]', 'C1: nodes must be 2 names, such as ["in", "0"]'],
    ['"lowHz"', '"loHz"', 'analyses[1], frequency response: "loHz" is not a field of it; is it spelt right?'],
    ['"analyses"', '"wanted"', 'the file: "wanted" is not a field of it; is it spelt right?'],
  ])("%s written as %s gets a sentence", (right, wrong, sentence) => {
    expect(example).toContain(right);
    expect(() => readInput(example.replace(right, wrong))).toThrow(exactly(sentence));
  });

  test("bad input ends with status 2 and nothing on the standard output", async () => {
    const ended = await new Promise((resolve) => {
      execFile(process.execPath, [join(root, "scripts", "analyse.ts"), "no-such-file.json"], (error, stdout, stderr) =>
        resolve({status: error?.code, stdout, stderr}),
      );
    });
    expect(ended).toEqual({status: 2, stdout: "", stderr: "no-such-file.json cannot be read; is the path right?\n"});
  });

  test.each([
    ["parts", "part", "voltage source"],
    ["analyses", "analysis", "operating point"],
  ] as const)("the schema knows the same kinds of %s", (row, what, first) => {
    const schema = JSON.parse(readFileSync(join(root, "public", "circuit.schema.json"), "utf8"));
    const forms: readonly {properties: {kind: {const: string}}}[] = schema.properties[row].items.oneOf;
    const kinds = forms.map(({properties}) => properties.kind.const);
    const sentence = `${row}[0]: "?" is no kind of ${what}; there are ${kinds.join(", ")}`;
    expect(() => readInput(example.replace(`"kind": "${first}"`, '"kind": "?"'))).toThrow(exactly(sentence));
  });
});
