import {expect, test} from "vitest";
import {operatingPoint} from "../../../src/engine/analysis/operating-point.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import type {Diode, NodeName, Part} from "../../../src/engine/circuit/part.ts";
import {blockStepper} from "../../../src/engine/realtime/block-stepper.ts";
import {hardStep, liveLooks} from "../../../src/engine/realtime/hard-step.ts";
import {memoryAt, stepModel} from "../../../src/engine/realtime/derive-step.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {resistor, signalAt, supplyAt} from "../../reference-cases/course-stages.ts";

const diode = (ref: string, a: NodeName, b: NodeName, more: Partial<Diode> = {}): Part => ({
  kind: "diode",
  ref,
  nodes: [a, b],
  model: {...diodeModels.silicon, seriesOhms: 0},
  inSeries: 1,
  ...more,
});
const noise = (seed: number, length: number) => {
  const draw = seededNoise(seed);
  return Float64Array.from({length}, () => 20 * draw());
};

test("20 A through diodes, beside a node that only they hold, leave the node's currents balanced", () => {
  const chain = circuit([
    signalAt("s", -20),
    resistor("R", "s", "a", 1),
    diode("D1", "0", "b"),
    diode("D2", "b", "a"),
    diode("D3", "a", "0"),
  ]);
  const volts = timeResponse(chain, "b", noise(0, 200), 48_000, {oversampling: 1});
  // One diode takes what the other gives: the node between stands half way while they conduct.
  const whole = timeResponse(chain, "a", noise(0, 200), 48_000, {oversampling: 1});
  const conducting = [...whole.keys()].filter((n) => (whole[n] ?? 0) < -1.5);
  expect(conducting.length).toBeGreaterThan(50);
  for (const n of conducting) expect(Math.abs((volts[n] ?? NaN) / (whole[n] ?? NaN) - 0.5)).toBeLessThan(1e-6); // 4 nA of the femtofarad against 50 mA
});

test("laws that stand anywhere at all find the one solution of a circuit without gain", () => {
  const limiter = circuit([
    signalAt("s"),
    resistor("R", "s", "a", 10),
    diode("D1", "a", "b", {model: diodeModels.germanium, inSeries: 3}),
    diode("D2", "b", "0"),
    resistor("R2", "b", "0", 1e6),
    diode("D3", "0", "a"),
  ]);
  const {stamps, x} = operatingPoint(limiter);
  const model = stepModel(stamps, [], 96_000, "trapezoidal");
  const drive = Float64Array.from(model.F, (volts, k) => volts + 20 * (model.E[k] ?? 0));
  expect(memoryAt(stamps, x)).toHaveLength(0);
  const draw = seededNoise(3);
  const solutions = Array.from({length: 200}, () => {
    const points = Float64Array.from(model.laws, () => 50 * draw());
    expect(hardStep(model, drive, points)).toBe(true);
    return points;
  });
  for (const points of solutions) points.forEach((volts, k) => expect(volts).toBeCloseTo(solutions[0]?.[k] ?? NaN, 8)); // 570 kV of ρ·φ balance: their last digit is 1e-10 V
});

test("an op-amp that feeds its own input jumps from rail to rail where theory says, and every step is solved", () => {
  // No pole: between two samples the output has no way but to jump, where the branch that it stood on ends.
  const trigger = circuit([
    signalAt("s"),
    resistor("R1", "s", "p", 10e3),
    resistor("R2", "out", "p", 100e3),
    supplyAt("V+", "vcc", 9),
    supplyAt("V-", "vee", -9),
    {
      kind: "op-amp",
      ref: "U1",
      nodes: ["p", "0", "out"],
      supply: {positive: "vcc", negative: "vee"},
      model: opAmpModels.ideal,
    },
  ]);
  const up = Float64Array.from({length: 400}, (_, n) => -5 + n / 40);
  const there = Float64Array.from([...up, ...up.toReversed(), ...up]);
  const volts = timeResponse(trigger, "out", there, 48_000, {oversampling: 1});
  const [down, back] = [volts.subarray(400, 800), volts.subarray(800)];
  const jump = (cycle: Float64Array, from: number) =>
    cycle.findIndex((v, n) => n > 0 && v * (cycle[n - 1] ?? 0) < 0) / 40 - from;
  // p passes 0 V at an input of ∓9 V·10/100; the rails are soft by a tenth of a volt, a sample is 25 mV.
  expect(5 - (jump(down, 0) + 0.025)).toBeGreaterThan(-0.95);
  expect(5 - (jump(down, 0) + 0.025)).toBeLessThan(-0.85);
  expect(jump(back, 5)).toBeGreaterThan(0.85);
  expect(jump(back, 5)).toBeLessThan(0.95);
  for (const v of volts.subarray(400)) expect(Math.abs(Math.abs(v) - 9)).toBeLessThan(0.3);
});

/**
 * Its output is its own supply. With p = s·10/11 + out/11 it asks for p = 1 mV·(1 − exp(−out/25 mV)): a straight line and a curve that
 * stays below 1 mV and bends away from it, so that from s = 0.9 mV on they do not meet.
 */
const itself = circuit([
  signalAt("s"),
  resistor("R1", "s", "p", 10e3),
  resistor("R2", "out", "p", 100e3),
  {
    kind: "op-amp",
    ref: "U1",
    nodes: ["p", "0", "out"],
    supply: {positive: "out", negative: "0"},
    model: opAmpModels.ideal,
  },
  resistor("R3", "out", "w", 1e3),
  {kind: "capacitor", ref: "C", nodes: ["w", "0"], farads: 1e-7},
]);

test("where a step has no solution the output is held, and sound goes on behind it", () => {
  const signal = Float64Array.from(
    {length: 1200},
    (_, n) => (n >= 400 && n < 800 ? 0.05 : -1e-3) * Math.sin(n / 20) ** 2,
  );
  const held: number[] = [];
  const options = {oversampling: 1, onHeld: (seconds: number) => void held.push(seconds)};
  const out = timeResponse(itself, "out", signal, 48_000, options);
  const apart = (n: number) => {
    const [s = NaN, volts = NaN] = [signal[n], out[n]];
    return (s * 10 + volts) / 11 - 1e-3 * (1 - Math.exp(-volts / 0.025));
  };
  // Blocks of 128 samples that have some of samples 400 to 799.
  expect(held).toEqual([3, 4, 5, 6].map((block) => (block * 128) / 48_000));
  for (const n of out.keys()) {
    if (n < 400 || n > 801) expect(Math.abs(apart(n)), `${n}`).toBeLessThan(1e-9); // Newton's last step of a microvolt, squared over 25 mV
    expect(Math.abs(out[n] ?? NaN)).toBeLessThan(0.1);
  }
});

test("sound that plays as it is made looks no longer for a solution than it can wait", () => {
  const {stamps, x} = operatingPoint(itself);
  const rateHz = 384_000;
  const model = stepModel(stamps, [stamps.unknownOf.get("out") ?? -1], rateHz, "trapezoidal");
  // Every other millisecond of four has no solution.
  const signal = Float64Array.from({length: 1536}, (_, n) => (n % 768 < 384 ? -1e-3 : 0.05));
  const played = (live: boolean) => {
    const {run} = blockStepper(model, memoryAt(stamps, x), {live});
    // Counted by hand: a spy keeps every call.
    const {exp} = Math;
    let looks = 0;
    Math.exp = (x) => {
      looks++;
      return exp(x);
    };
    try {
      const held = run(signal, new Float64Array(signal.length));
      return {held, looks};
    } finally {
      Math.exp = exp;
    }
  };
  const [live, file] = [played(true), played(false)];
  for (const {held} of [live, file]) expect(held).toBeGreaterThan(700);
  // What the purse holds, what it earns meanwhile, the last search's own end, and twelve quick rounds a step.
  const {most, perSecond} = liveLooks;
  const quick = 12 * model.laws.length * live.held;
  expect(live.looks).toBeLessThan(most + (perSecond * signal.length) / rateHz + 2000 + quick);
  expect(file.looks - quick).toBeGreaterThan(10 * (live.looks - quick));
});

test("a search takes no more than its purse holds", () => {
  const {stamps} = operatingPoint(itself);
  const model = stepModel(stamps, [], 384_000, "trapezoidal");
  const drive = Float64Array.from(model.F, (volts, k) => volts + 0.05 * (model.E[k] ?? 0));
  const taken = (looks: number): number => {
    const purse = {looks};
    expect(hardStep(model, drive, new Float64Array(model.laws.length), 12, purse)).toBe(false);
    return looks - purse.looks;
  };
  const whole = taken(1e9);
  expect(whole).toBeGreaterThan(20_000);
  // Every law may be on its way to one last point.
  for (const looks of [1000, 10_000]) expect(taken(looks)).toBeLessThan(looks + 200 * model.laws.length);
});
