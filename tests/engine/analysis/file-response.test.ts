import {expect, test} from "vitest";
import {CircuitError} from "../../../src/engine/circuit/circuit-error.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {fileResponsePart} from "../../../src/engine/analysis/file-response.ts";
import {preciseTimeResponse} from "../../../src/engine/analysis/precise-time-response.ts";
import {finished, timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {fileOversampling, fileTolerance} from "../../../src/engine/realtime/rates.ts";

const rateHz = 48_000;
const signal = Float64Array.from({length: 960}, (_, n) => 0.3 * Math.sin((2 * Math.PI * 220 * n) / rateHz));

test.each([
  [2, "steps at a high rate, as nothing bends the sound"],
  [10, "within a tolerance, as diodes bend it"],
])("in lesson %i a file is worked out in %s", (lesson) => {
  const {circuit, listenAt} = courseCircuit(startSetting(lesson));
  const shares: number[] = [];
  const parts = fileResponsePart(circuit, listenAt, signal, rateHz);
  let step = parts.next();
  for (; step.done !== true; step = parts.next()) shares.push(step.value);
  const expected =
    lesson < 4
      ? timeResponse(circuit, listenAt, signal, rateHz, {oversampling: fileOversampling, fromRest: true})
      : preciseTimeResponse(circuit, listenAt, signal, rateHz, {tolerance: fileTolerance, fromRest: true});
  expect(step.value).toEqual(expected);
  for (const share of shares) expect(share).toBeGreaterThanOrEqual(0);
  expect(Math.max(...shares)).toBeLessThan(1);
  expect(finished(fileResponsePart(circuit, listenAt, signal, rateHz))).toEqual(expected);
});

test("where a trigger jumps and nothing can be followed closely, the steps of a high rate go on", () => {
  const supply = (ref: string, node: string, volts: number) =>
    ({kind: "voltage source", ref, nodes: [node, "0"], volts}) as const;
  const trigger = circuit([
    {kind: "voltage source", ref: "s", nodes: ["s", "0"], volts: 0, signal: true},
    {kind: "resistor", ref: "R1", nodes: ["s", "p"], ohms: 10e3},
    {kind: "resistor", ref: "R2", nodes: ["out", "p"], ohms: 100e3},
    supply("V+", "vcc", 9),
    supply("V-", "vee", -9),
    {
      ...{kind: "op-amp", ref: "U1", nodes: ["p", "0", "out"]},
      ...{supply: {positive: "vcc", negative: "vee"}, model: opAmpModels.ideal},
    },
  ]);
  const wide = signal.map((volts) => 5 * volts);
  const options = {tolerance: fileTolerance, fromRest: true};
  expect(() => preciseTimeResponse(trigger, "out", wide, rateHz, options)).toThrow(CircuitError);
  expect(finished(fileResponsePart(trigger, "out", wide, rateHz))).toEqual(
    timeResponse(trigger, "out", wide, rateHz, {oversampling: fileOversampling, fromRest: true}),
  );
});
