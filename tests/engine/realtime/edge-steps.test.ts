import {describe, expect, test} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {courseCircuit, lessonCount} from "../../../src/engine/course/course-circuit.ts";
import {adaptiveRun} from "../../../src/engine/realtime/adaptive-run.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {edgeRation} from "../../../src/engine/realtime/edge-ration.ts";
import {refineInto} from "../../../src/engine/realtime/finer-model.ts";
import {innerRateHz} from "../../../src/engine/realtime/rates.ts";
import {stepLadder} from "../../../src/engine/realtime/step-ladder.ts";
import {matricesOver} from "../../../src/engine/realtime/step-model.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {rms} from "../../reference-cases/played-wave.ts";

const names = Object.keys(opAmpModels);

function prepared(settings: Readonly<Record<string, number>>, lesson = lessonCount, rateHz = innerRateHz) {
  const {circuit, listenAt} = courseCircuit({lesson, settings});
  const {stamps, x} = operatingPoint(circuit);
  const outputs = [stamps.unknownOf.get(listenAt) ?? -1];
  return {stamps, outputs, memory: memoryAt(stamps, x), model: stepModel(stamps, outputs, rateHz, "trapezoidal")};
}

const frequencyHz = 2000;
const period = innerRateHz / frequencyHz;
const sine =
  (peakVolts: number, hertz = frequencyHz) =>
  (seconds: number) =>
    peakVolts * Math.sin(2 * Math.PI * hertz * seconds);
const stepsOf = (source: (seconds: number) => number, steps: number) =>
  Float64Array.from({length: steps}, (_, n) => source((n + 1) / innerRateHz));
const decibels = (ratio: number) => 20 * Math.log10(ratio);

describe.each([0.3, 1])("2 kHz at %d V through the whole pedal at full gain", (peakVolts) => {
  test.each(["ideal", "tl072", "tlc2272"])("comes within −95 dB of what it is, %s", (opAmp) => {
    const {stamps, outputs, memory, model} = prepared({RV1: 1, U1: names.indexOf(opAmp)});
    const source = sine(peakVolts);
    const exact = new Float64Array(20 * period);
    const moments = exact.map((_, n) => (n + 1) / innerRateHz);
    const ladder = stepLadder(stamps, outputs, 1 / 48_000);
    adaptiveRun(ladder, memory.slice(), source, {relative: 1e-9, volts: 1e-9}, true).advance(moments, exact);
    const live = new Float64Array(exact.length + 1);
    expect(blockStepper(model, memory, {corrects: true}).run(stepsOf(source, live.length), live)).toBe(0);
    const [wanted, ours] = [exact.subarray(10 * period), live.subarray(10 * period + 1)];
    const rest = wanted.reduce((sum, volts) => sum + volts, 0) / wanted.length;
    const off = rms(wanted.map((volts, n) => volts - (ours[n] ?? NaN))) / rms(wanted.map((volts) => volts - rest));
    expect(decibels(off)).toBeLessThan(-95);
  });
});

test.each([2000, 5000])("%i Hz at 1 V: what comes out depends on no block's length", (hertz) => {
  const {model, memory} = prepared({RV1: 1});
  const input = stepsOf(sine(1, hertz), 4000);
  const [whole, parts] = [new Float64Array(input.length), new Float64Array(input.length)];
  blockStepper(model, memory, {corrects: true}).run(input, whole);
  const stepper = blockStepper(model, memory, {corrects: true});
  const draw = seededNoise(4);
  for (let begin = 0, end; begin < input.length; begin = end) {
    end = Math.min(input.length, begin + 1 + Math.floor(10 * (1 + draw())));
    stepper.run(input, parts, begin, end);
  }
  expect(parts).toEqual(whole);
});

test("a control that has come to rest leaves nothing of where it was", () => {
  const [from, to] = [prepared({RV1: 0.9}), prepared({RV1: 1})];
  const input = stepsOf(sine(1), period);
  const lastPeriod = (moves: boolean) => {
    const stepper = blockStepper((moves ? from : to).model, from.memory, {corrects: true});
    const output = new Float64Array(period);
    for (let n = 0; n < 400; n++) {
      if (moves && n >= 10 && n < 20) stepper.blend(from.model, to.model, (n - 9) / 10);
      stepper.run(input, output);
    }
    return output;
  };
  const [moved, steady] = [lastPeriod(true), lastPeriod(false)];
  expect(decibels(rms(moved.map((volts, n) => volts - (steady[n] ?? NaN))) / rms(steady))).toBeLessThan(-120);
});

test.each([2, 6, 10, 13, 20, lessonCount])("a finer model of lesson %i is the one its equations have", (lesson) => {
  const [coarse, fine] = [prepared({}, lesson).model, prepared({}, lesson, 8 * innerRateHz).model];
  const refined = matricesOver(coarse);
  expect(refineInto(refined, coarse, 8)).toBe(true);
  for (const name of ["D", "E", "F", "K", "A", "B", "H", "C", "L", "M", "O", "N"] as const) {
    const largest = Math.max(1e-12, ...fine[name].map(Math.abs));
    // The fewer digits are those of the whole equations, whose inverse has rounding of its own.
    fine[name].forEach((each, at) =>
      expect(Math.abs(each - (refined[name][at] ?? NaN)), name).toBeLessThan(1e-9 * largest),
    );
  }
});

test("a quarter of the steps may be edges, the sharper ones where there are more", () => {
  const ration = edgeRation();
  const least = ration.volts();
  let taken = 0;
  const play = (steps: number) => {
    for (let n = 0; n < steps; n++) {
      if (ration.take(1)) taken++;
      expect(ration.steps()).toBeGreaterThan(0);
      ration.passed(1);
    }
  };
  play(256);
  expect(taken).toBeLessThanOrEqual(64);
  expect(ration.volts()).toBe(2 * least);
  play(40 * 256);
  expect(taken).toBeLessThanOrEqual(41 * 64);
  expect(ration.volts()).toBeLessThanOrEqual(1);
  ration.take(2);
  for (let n = 0; n < 40; n++) ration.passed(256);
  expect(ration.volts()).toBe(least);
});
