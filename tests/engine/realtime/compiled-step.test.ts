import {afterEach, describe, expect, test, vi} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {
  controlsOf,
  courseCircuit,
  lessonCount,
  startSetting,
  type BenchSetting,
} from "../../../src/engine/course/course-circuit.ts";
import {adaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {exponential, powersOfTwo} from "../../../src/engine/realtime/compiled/emit-exponential.ts";
import {get, wasmModule} from "../../../src/engine/realtime/compiled/wasm-code.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {nonlinearStepper} from "../../../src/engine/realtime/nonlinear-stepper.ts";
import {stepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import type {Method} from "../../../src/engine/realtime/step-model.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {capacitor, resistor, signalAt, supplyAt} from "../../reference-cases/course-stages.ts";

const rateHz = 384_000;

function prepared(setting: BenchSetting, method: Method) {
  const {circuit, listenAt} = courseCircuit(setting);
  const {stamps, x} = operatingPoint(circuit);
  const model = stepModel(stamps, [stamps.unknownOf.get(listenAt) ?? -1], rateHz, method);
  return {model, memory: memoryAt(stamps, x)};
}

/** A low note with its octave, as the method wants it. */
function note(method: Method, steps: number, peakVolts: number): Float64Array {
  const at = (n: number) =>
    peakVolts * (0.7 * Math.sin((2 * Math.PI * 110 * n) / rateHz) + 0.3 * Math.sin((2 * Math.PI * 1230 * n) / rateHz));
  return method === "trapezoidal"
    ? Float64Array.from({length: steps}, (_, n) => at(n + 1))
    : Float64Array.from({length: 2 * steps}, (_, k) => at((k >> 1) + (k % 2 === 0 ? 1 / 3 : 1)));
}

test("its exponential is that of the language to the last digits", () => {
  const body = [...exponential(0, 1, 2, 3), ...get(1)];
  const locals = ["f64", "f64", "i64"] as const;
  const bytes = wasmModule([], [{name: "exp", signature: {takes: ["f64"], gives: ["f64"]}, locals, body}]);
  const memory = new WebAssembly.Memory({initial: 1});
  const table = powersOfTwo();
  new Float64Array(memory.buffer, 0, table.length).set(table);
  const {exports} = new WebAssembly.Instance(new WebAssembly.Module(bytes), {engine: {memory}});
  const exp = exports["exp"] as (x: number) => number;
  const draw = seededNoise(3);
  for (let n = 0; n < 20_000; n++) {
    const x = 60 * draw();
    // Two units in the last place: ours may be off by one, and so may theirs.
    expect(Math.abs(exp(x) / Math.exp(x) - 1), `e^${x}`).toBeLessThan(4.5e-16);
  }
  expect(exp(0)).toBe(1);
});

describe.each(["trapezoidal", "Radau IIA"] as const)("compiled, %s", (method) => {
  test.each([2, 4, 6, 8, 10, 13, 14, 20])("lesson %i steps as the general stepper does", (lesson) => {
    const {settings} = startSetting(lesson);
    const {model, memory} = prepared({lesson, settings: "RV1" in settings ? {...settings, RV1: 1} : settings}, method);
    const input = note(method, 4000, 1);
    const output = new Float64Array(4000);
    const stepper = blockStepper(model, memory);
    expect(stepper.compiled).toBe(true);
    expect(stepper.run(input, output)).toBe(0);
    const general = nonlinearStepper(model, memory);
    let [worst, peak] = [0, 0];
    for (let n = 0; n < output.length; n++) {
      general.step(input[(n + 1) * model.stages - 1] ?? 0, input[n * model.stages]);
      worst = Math.max(worst, Math.abs((output[n] ?? NaN) - (general.output[0] ?? NaN)));
      peak = Math.max(peak, Math.abs(general.output[0] ?? NaN));
    }
    expect(peak).toBeGreaterThan(0.01);
    // Both stop Newton's method where what is left is some nanovolts; the gain of the stages behind makes more of it.
    expect(worst).toBeLessThan(1e-7 * Math.max(1, peak));
  });

  test("diodes in a chain, a node between them that only they lead to, step as the general stepper has them", () => {
    const diode = (ref: string, nodes: readonly [string, string], seriesOhms: number): Part => ({
      kind: "diode",
      ref,
      nodes,
      model: {...diodeModels.silicon, seriesOhms},
      inSeries: 1,
    });
    // A resistance of a kilohm makes the slope that the linear part takes, a millisiemens, all there is of one law.
    const limiter = circuit([
      signalAt("s"),
      resistor("R", "s", "a", 1e3),
      capacitor("C", "a", "0", 10e-9),
      ...[diode("D1", ["a", "b"], 0.568), diode("D2", ["b", "0"], 1e3), diode("D3", ["0", "a"], 0)],
    ]);
    const {stamps, x} = operatingPoint(limiter);
    const model = stepModel(stamps, [stamps.unknownOf.get("b") ?? -1], rateHz, method);
    expect(model.laws.filter(({tangent}) => tangent !== 0).length).toBeGreaterThan(1);
    const input = note(method, 4000, 4);
    const output = new Float64Array(4000);
    const stepper = blockStepper(model, memoryAt(stamps, x));
    expect(stepper.compiled).toBe(true);
    expect(stepper.run(input, output)).toBe(0);
    const general = nonlinearStepper(model, memoryAt(stamps, x));
    output.forEach((volts, n) => {
      general.step(input[(n + 1) * model.stages - 1] ?? 0, input[n * model.stages]);
      expect(Math.abs(volts - (general.output[0] ?? NaN))).toBeLessThan(1e-7);
    });
    expect(Math.max(...output)).toBeGreaterThan(0.4);
  });

  test.each([6, 10, 13, 20])("lesson %i under noise of 20 V: every step is solved", (lesson) => {
    const draw = seededNoise(lesson);
    const pick = (values: readonly number[]) => values[Math.floor(((draw() + 1) / 2) * values.length)] ?? 0;
    for (let setting = 0; setting < 6; setting++) {
      const settings = Object.fromEntries(controlsOf(lesson).map(({name, values}) => [name, pick(values)]));
      const {model, memory} = prepared({lesson, settings}, method);
      const stepper = blockStepper(model, memory);
      const output = new Float64Array(600);
      const unsolved = stepper.run(
        Float64Array.from({length: 600 * model.stages}, () => 20 * draw()),
        output,
      );
      expect(unsolved, JSON.stringify(settings)).toBe(0);
      expect(output.every((volts) => Math.abs(volts) < 36)).toBe(true);
    }
  });
});

describe("the rule's own error taken out", () => {
  test.each([6, 10, 13, 20])("under noise of 20 V lesson %i is led nowhere by it", (lesson) => {
    const {settings} = startSetting(lesson);
    const {model, memory} = prepared({lesson, settings: {...settings, RV1: 1}}, "trapezoidal");
    const stepper = blockStepper(model, memory, {corrects: true});
    expect(stepper.late).toBe(1);
    const draw = seededNoise(lesson);
    const output = new Float64Array(4000);
    expect(
      stepper.run(
        Float64Array.from({length: 4000}, (_, n) => (n < 2000 ? 20 * draw() : 0)),
        output,
      ),
    ).toBe(0);
    expect(output.every((volts) => Math.abs(volts) < 40)).toBe(true);
    // What the noise left in it is forgotten within a millisecond.
    const plain = blockStepper(model, stepper.single.state);
    const [corrected, rest] = [new Float64Array(200), new Float64Array(200)];
    stepper.run(new Float64Array(200), corrected);
    plain.run(new Float64Array(200), rest);
    for (let n = 1; n < 200; n++) expect(Math.abs((corrected[n] ?? NaN) - (rest[n - 1] ?? NaN))).toBeLessThan(1e-3);
  });

  test("a circuit that swings by itself from rail to rail comes nearer to its own pace", () => {
    const oscillator = circuit([
      signalAt("s"),
      ...[resistor("R1", "s", "p", 10e3), resistor("R2", "out", "p", 47e3), capacitor("C2", "p", "0", 1e-9)],
      ...[resistor("R3", "out", "m", 22e3), capacitor("C1", "m", "0", 10e-9)],
      ...[supplyAt("V+", "vcc", 9), supplyAt("V-", "vee", -9)],
      {
        kind: "op-amp",
        ref: "U1",
        nodes: ["p", "m", "out"],
        supply: {positive: "vcc", negative: "vee"},
        model: opAmpModels.tl072,
      },
    ]);
    const {stamps, x} = operatingPoint(oscillator);
    const model = stepModel(stamps, [stamps.unknownOf.get("out") ?? -1], rateHz, "trapezoidal");
    const source = (t: number) => (1 - Math.exp(-t / 1e-3)) * (1 + 2 * Math.sin(550 * t));
    const input = Float64Array.from({length: 20_000}, (_, n) => source((n + 1) / rateHz));
    const jumpsOf = (output: Float64Array) =>
      output.filter((volts, n) => n > 0 && volts * (output[n - 1] ?? 0) < 0).length;
    const [plain, corrected] = [false, true].map((corrects) => {
      const output = new Float64Array(input.length);
      expect(blockStepper(model, memoryAt(stamps, x), {corrects}).run(input, output)).toBe(0);
      expect(output.every((volts) => Math.abs(volts) < 9.1)).toBe(true);
      return jumpsOf(output);
    }) as [number, number];
    const ladder = stepLadder(stamps, [stamps.unknownOf.get("out") ?? -1], 1 / 48_000);
    const exact = new Float64Array(input.length);
    const moments = exact.map((_, n) => (n + 1) / rateHz);
    adaptiveRun(ladder, memoryAt(stamps, x), source, {relative: 1e-7, volts: 1e-7}, true).advance(moments, exact);
    expect(jumpsOf(exact)).toBeGreaterThan(100);
    // No tangent tells the error of a jump that lasts less than a step; made in shorter ones it is a tenth at most.
    expect(Math.abs(corrected - jumpsOf(exact))).toBeLessThan(Math.abs(plain - jumpsOf(exact)) / 10);
  });

  test("with nothing to hear, nothing is added", () => {
    const {model, memory} = prepared(startSetting(lessonCount), "trapezoidal");
    const stepper = blockStepper(model, memory, {corrects: true});
    const output = new Float64Array(600);
    stepper.run(new Float64Array(600), output);
    for (const volts of output.subarray(1)) expect(Math.abs(volts - (output[1] ?? NaN))).toBeLessThan(1e-9);
  });
});

describe("without machine code", () => {
  afterEach(() => void vi.unstubAllGlobals());

  test.each([
    ["in a browser that has none", 2, undefined],
    [
      "under a policy that forbids it",
      3,
      {
        ...WebAssembly,
        Memory: WebAssembly.Memory,
        CompileError: WebAssembly.CompileError,
        Module: function () {
          throw new WebAssembly.CompileError("refused by the page's policy");
        },
      },
    ],
  ])("%s, the same steps are made", (_, width, stub) => {
    // A width that no other test has, so that no module made before serves.
    const {circuit, listenAt} = courseCircuit(startSetting(11));
    const {stamps, x} = operatingPoint(circuit);
    const outputs = [stamps.unknownOf.get(listenAt) ?? -1, -1, -1].slice(0, width);
    const model = stepModel(stamps, outputs, rateHz, "trapezoidal");
    const memory = memoryAt(stamps, x);
    const input = note("trapezoidal", 1000, 0.3);
    vi.stubGlobal("WebAssembly", stub);
    const general = blockStepper(model, memory);
    const slow = new Float64Array(1000 * width);
    expect(general.compiled).toBe(false);
    expect(general.run(input, slow)).toBe(0);
    vi.unstubAllGlobals();
    const compiled = blockStepper(model, memory);
    const quick = new Float64Array(1000 * width);
    expect(compiled.compiled).toBe(true);
    expect(compiled.run(input, quick)).toBe(0);
    quick.forEach((volts, n) => expect(Math.abs(volts - (slow[n] ?? NaN))).toBeLessThan(1e-7));
    expect(quick.some((volts) => Math.abs(volts) > 0.01)).toBe(true);
  });

  test.each([
    ["the whole pedal while its gain moves", lessonCount, 0.1],
    ["a stage that goes from rail to rail", 8, 3],
  ])("%s: the same steps are made", (_, lesson, peakVolts) => {
    const at = (gain: number) =>
      prepared({lesson, settings: {...startSetting(lesson).settings, RV1: gain}}, "trapezoidal");
    const [from, to] = [at(0.9), at(1)];
    const input = note("trapezoidal", 8000, peakVolts);
    const played = () => {
      const stepper = blockStepper(from.model, from.memory);
      const output = new Float64Array(input.length);
      for (let n = 0; n < input.length; n += 8) {
        if (n >= 2000) stepper.blend(from.model, to.model, Math.min(1, (n - 2000) / 4000));
        expect(stepper.run(input.subarray(n, n + 8), output.subarray(n, n + 8))).toBe(0);
      }
      return output;
    };
    const quick = played();
    vi.stubGlobal("WebAssembly", undefined);
    const slow = played();
    expect(Math.max(...quick)).toBeGreaterThan(0.3);
    quick.forEach((volts, n) => expect(Math.abs(volts - (slow[n] ?? NaN))).toBeLessThan(1e-7));
  });
});
