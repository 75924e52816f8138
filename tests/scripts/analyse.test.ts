import {mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {execFile} from "node:child_process";
import {join} from "node:path";
import fc from "fast-check";
import {describe, expect, test} from "vitest";
import {analysed} from "../../scripts/analyse/analysed.ts";
import {analysisForms} from "../../scripts/analyse/forms.ts";
import {InputError, readInput} from "../../scripts/analyse/read-input.ts";
import {schema} from "../../scripts/analyse/schema.ts";
import {CircuitError} from "../../src/engine/circuit/circuit-error.ts";

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

  const run = (...args: readonly string[]) =>
    new Promise<Readonly<{status: unknown; stdout: string; stderr: string}>>((resolve) => {
      execFile(process.execPath, [join(root, "scripts", "analyse.ts"), ...args], (error, stdout, stderr) =>
        resolve({status: error?.code ?? 0, stdout, stderr}),
      );
    });

  test("bad input ends with status 2 and nothing on the standard output", async () => {
    expect(await run("no-such-file.json")).toEqual({
      status: 2,
      stdout: "",
      stderr: "no-such-file.json cannot be read; is the path right?\n",
    });
    expect(await run()).toMatchObject({status: 2, stderr: "Name one file: npm run analyse -- FILE.json\n"});
  });

  test("a good file ends with status 0 and JSON on the standard output", async () => {
    const folder = mkdtempSync(join(tmpdir(), "analyse-"));
    writeFileSync(join(folder, "example.json"), example);
    const {status, stdout, stderr} = await run(join(folder, "example.json"));
    expect({status, stderr}).toEqual({status: 0, stderr: ""});
    const {nodes, results} = JSON.parse(stdout);
    expect(nodes).toEqual(["0", "in", "out"]);
    expect(results.map(({kind}: {kind: string}) => kind)).toEqual(readInput(example).analyses.map(({kind}) => kind));
    writeFileSync(join(folder, "broken.json"), example.replace("33e-9", "-33e-9"));
    const broken = await run(join(folder, "broken.json"));
    expect(broken).toMatchObject({status: 2, stdout: ""});
    expect(broken.stderr).toBe("C1: capacitance must be positive, got -33 nF; leave the part out for 0 F\n");
    rmSync(folder, {recursive: true});
  });
});

/** A limiter: 1 kΩ, two diodes, 10 nF; and every kind of analysis of it. */
const limiter = {
  parts: [
    {kind: "voltage source", ref: "V", nodes: ["in", "0"], volts: 0, signal: true},
    {kind: "resistor", ref: "R1", nodes: ["in", "out"], ohms: 1e3},
    {kind: "capacitor", ref: "C1", nodes: ["out", "0"], farads: 1e-8},
    {kind: "diode", ref: "D1", nodes: ["out", "0"], model: "silicon", inSeries: 1},
    {kind: "diode", ref: "D2", nodes: ["0", "out"], model: "silicon", inSeries: 1},
  ],
  analyses: [
    {kind: "operating point"},
    {kind: "static transfer", output: "out", signalVolts: [-1, 0, 1]},
    {kind: "frequency response", output: "out", points: 3},
    {kind: "corners", output: "out", lowHz: 10, highHz: 1e6},
    {kind: "shelf", output: "out", lowHz: 10, highHz: 1e4},
    {kind: "input impedance", node: "in", points: 2},
    {kind: "output impedance", node: "out", frequenciesHz: [1000]},
    {kind: "noise", output: "out"},
    {kind: "time response", output: "out", signalVolts: [0, 0.1, 0.2, 0.1], sampleRateHz: 48000, oversampling: 2},
    {
      kind: "loudness",
      output: "out",
      signalVolts: Array.from({length: 24000}, (_, n) => 0.1 * Math.sin((2 * Math.PI * 997 * n) / 48000)),
      sampleRateHz: 48000,
    },
    {kind: "settled cycle", output: "out", frequencyHz: 440, peakVolts: 1},
    {kind: "level sweep", output: "out", frequencyHz: 440, peaksVolts: [0.1, 1]},
    {kind: "compression", output: "out", frequencyHz: 440, peaksVolts: [0.1, 0.3, 1]},
    {kind: "level response", output: "out", peaksVolts: [0.01, 1], frequenciesHz: [100, 10000]},
    {kind: "two tones", output: "out", lowHz: 400, highHz: 500, lowPeakVolts: 1, highPeakVolts: 1, order: 3},
    {kind: "sensitivity", output: "out", frequenciesHz: [1000]},
    {kind: "tolerance", output: "out", frequenciesHz: [1000], byRef: {R1: 0.1}, runs: 20, seed: 3},
    {kind: "nearest values"},
    {
      kind: "fault",
      ref: "D1",
      fault: "open",
      analyses: [{kind: "settled cycle", output: "out", frequencyHz: 440, peakVolts: 1}],
    },
  ],
};

const resultOf = (kind: string) => {
  const {circuit, analyses} = readInput(JSON.stringify(limiter));
  const asked = analyses.find((each) => each.kind === kind);
  if (!asked) throw new Error(`no ${kind} is asked for`);
  const plain = (_: string, value: unknown) => (value instanceof Float64Array ? [...value] : value);
  return JSON.parse(JSON.stringify(analysed(circuit, asked), plain));
};

test("a time response within a tolerance is the one that fine steps come near, and takes no oversampling beside it", () => {
  const {circuit} = readInput(JSON.stringify(limiter));
  const signalVolts = Array.from({length: 480}, (_, n) => Math.sin((2 * Math.PI * 440 * n) / 48000));
  const asked = (more: object) =>
    analysed(circuit, {kind: "time response", output: "out", signalVolts, sampleRateHz: 48000, ...more}) as {
      volts: Float64Array;
    };
  const [stepped, precise] = [asked({oversampling: 32}).volts, asked({tolerance: 1e-7}).volts];
  // Half a volt under diodes; the trapezoidal rule at 1.5 MHz and both filters leave some microvolts.
  stepped.forEach((volts, n) => expect(Math.abs(volts - (precise[n] ?? NaN)), `sample ${n}`).toBeLessThan(2e-5));
  expect(Math.max(...precise)).toBeGreaterThan(0.4);
  expect(() => asked({oversampling: 2, tolerance: 1e-6})).toThrow(
    "a time response takes an oversampling or a tolerance; leave one of them out",
  );
});

describe("every analysis that can be asked for", () => {
  test("is asked for here, and answers in finite numbers", () => {
    expect(limiter.analyses.map(({kind}) => kind).sort()).toEqual(Object.keys(analysisForms).sort());
    for (const {kind} of limiter.analyses) {
      // A low-pass has no low corner, its search meets no shelf's second level; even harmonics of a symmetric wave may be 0.
      const said = JSON.stringify(resultOf(kind));
      if (!["sensitivity", "shelf", "settled cycle"].includes(kind)) expect(said, kind).not.toMatch(/null|NaN/);
      expect(said.length, kind).toBeGreaterThan(2);
    }
  });

  test("tells what the circuit's own laws say", () => {
    const slope = (2 * 2.52e-9) / (1.752 * 0.025852); // two diodes at 0 V, their series resistance being nothing beside
    expect(resultOf("output impedance").re[0]).toBeLessThan(1 / (1e-3 + slope));
    const {volts} = resultOf("static transfer");
    expect(volts[1]).toBeCloseTo(0, 12);
    expect(volts[2]).toBeCloseTo(-volts[0], 9); // matched diodes
    const sensitivity = resultOf("sensitivity");
    // R and C of a low-pass count alike, but for what the diodes' slope takes of R's part, 1e-4.
    const [R1, C1] = ["R1", "C1"].map((ref) => sensitivity.gain.find((row: {ref: string}) => row.ref === ref).gain[0]);
    expect(R1).toBeCloseTo(C1, 3);
    expect(sensitivity.lowCorner).toBeNull();
    const {worstCaseDb, bandsDb} = resultOf("tolerance");
    expect(worstCaseDb.lowest[0]).toBeLessThan(bandsDb.low[0]);
    expect(worstCaseDb.highest[0]).toBeGreaterThan(bandsDb.high[0]);
    const [whole, broken] = [resultOf("settled cycle"), resultOf("fault")[0].result];
    expect(whole.distortion.even).toBeLessThan(1e-6);
    expect(broken.distortion.even).toBeGreaterThan(0.1); // one diode alone clips one side
    expect(resultOf("nearest values")).toMatchObject({R1: {given: 1000, nearest: 1000}});
    expect(resultOf("loudness").lufs).toBeCloseTo(-23, 0); // 0.1 V of peak at 997 Hz: −20 dB re full scale, −3.01 dB its RMS
  });

  test.each([
    [{kind: "corners", output: "nowhere"}, 'no part touches node "nowhere"; the nodes are 0, in, out'],
    [
      {kind: "frequency response", output: "out", lowHz: 100, highHz: 10},
      "frequencies must ascend from above 0 Hz, got 100 to 10",
    ],
    [
      {kind: "frequency response", output: "out", frequenciesHz: [-1]},
      "frequencies must be finite and not negative, got -1 Hz",
    ],
    [
      {kind: "two tones", output: "out", lowHz: 500, highHz: 400, lowPeakVolts: 1, highPeakVolts: 1},
      "two tones need ascending frequencies from above 0 Hz, got 500 Hz and 400 Hz",
    ],
    [
      {kind: "level sweep", output: "out", frequencyHz: 440, peaksVolts: [0]},
      "levels must be positive, got 0 V at index 0",
    ],
    [
      {kind: "fault", ref: "R1", fault: "wrong value", analyses: [{kind: "operating point"}]},
      'R1: a wrong value needs "value", what was put in by mistake',
    ],
    [
      {kind: "fault", ref: "R1", fault: "leaking", analyses: [{kind: "operating point"}]},
      "R1: only a capacitor leaks, not a resistor",
    ],
    [{kind: "tolerance", output: "out", byRef: {R9: 0.1}}, 'no part is called "R9"; the parts are V, R1, C1, D1, D2'],
  ] as const)("%o is refused with a sentence", (asked, sentence) => {
    const {circuit, analyses} = readInput(JSON.stringify({...limiter, analyses: [asked]}));
    expect(() => analyses.map((each) => analysed(circuit, each))).toThrow(exactly(sentence));
  });

  test.each([
    [
      {kind: "settled cycle", output: "out", frequencyHz: 440},
      "analyses[0], settled cycle: peakVolts must be a number",
    ],
    [
      {kind: "settled cycle", output: "out", frequencyHz: 440, peakVolts: 1, points: 8},
      "analyses[0], settled cycle: points must be a whole number from 41 to 65536",
    ],
    [
      {kind: "fault", ref: "R1", fault: "melted", analyses: [{kind: "operating point"}]},
      'analyses[0], fault: fault must be "open", "short", "reversed", "wrong value" or "leaking"',
    ],
    [
      {kind: "fault", ref: "R1", fault: "open", analyses: [{kind: "corner"}]},
      `analyses[0].analyses[0]: "corner" is no kind of analysis; there are ${Object.keys(analysisForms).join(", ")}`,
    ],
  ])("%o does not even get as far", (asked, sentence) => {
    expect(() => readInput(JSON.stringify({...limiter, analyses: [asked]}))).toThrow(exactly(sentence));
  });
});

test("a file with any one thing in it spoilt is analysed or refused with a sentence, never worse", () => {
  const quick = {...limiter, analyses: limiter.analyses.filter(({kind}) => !["loudness", "two tones"].includes(kind))};
  const text = JSON.stringify(quick);
  // Every number, text and true of the file, by its place in the text.
  const places = [...text.matchAll(/(?<=[:[,])("(?:[^"\\]|\\.)*"(?!:)|-?[\d.]+(?:e[-+]?\d+)?|true)/g)];
  expect(places.length).toBeGreaterThan(90);
  const odd = fc.constantFrom(
    '""',
    '"0"',
    '"out"',
    '"lost"',
    "0",
    "-1",
    "0.5",
    "1e300",
    "1e-300",
    "null",
    "[]",
    "{}",
    "true",
    "[1,-1]",
  );
  let [answered, refused] = [0, 0];
  fc.assert(
    fc.property(fc.constantFrom(...places), odd, (place, by) => {
      const spoilt = text.slice(0, place.index) + by + text.slice(place.index + place[0].length);
      try {
        const {circuit, analyses} = readInput(spoilt);
        // The one that was spoilt, and the cheap ones where it was a part.
        const asked = analyses.filter((each, k) => JSON.stringify(each) !== JSON.stringify(quick.analyses[k]));
        for (const each of asked.length > 0 ? asked : analyses.slice(0, 7)) analysed(circuit, each);
        answered += 1;
      } catch (error) {
        const typed = error instanceof InputError || error instanceof CircuitError || error instanceof RangeError;
        if (!typed) throw error;
        expect((error as Error).message).toMatch(/\w+ .*\w+/);
        refused += 1;
      }
    }),
    {numRuns: 600, seed: Number(process.env["FAST_CHECK_SEED"] ?? 20261125)},
  );
  expect(answered).toBeGreaterThan(20);
  expect(refused).toBeGreaterThan(200);
});

describe("the schema", () => {
  test("is the one that the forms make; node scripts/analyse/schema.ts writes it anew", () => {
    const written = JSON.parse(readFileSync(join(root, "public", "circuit.schema.json"), "utf8"));
    expect(written).toEqual(JSON.parse(JSON.stringify(schema())));
  });

  test("the guide names every kind of analysis", () => {
    for (const kind of Object.keys(analysisForms)) expect(guide).toMatch(new RegExp(`[\`"]${kind}[\`"]`));
  });
});
