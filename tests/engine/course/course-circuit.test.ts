import {expect, test} from "vitest";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {inputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {valueOf} from "../../../src/engine/circuit/changes.ts";
import {
  beforeSetting,
  controlsOf,
  guitarRefs,
  pedalAlone,
  courseCircuit,
  lessonCount,
  lessonDeclaration,
  startSetting,
  turnedControls,
  wireSetting,
  type Settings,
} from "../../../src/engine/course/course-circuit.ts";

const lessons = Array.from({length: lessonCount}, (_, k) => k + 1);
const refs = (lesson: number, settings: Settings = {}) =>
  courseCircuit({lesson, settings}).circuit.parts.map(({ref}) => ref);
const part = (lesson: number, ref: string, settings: Settings = {}) =>
  courseCircuit({lesson, settings}).circuit.parts.find((each) => each.ref === ref);
const dbAt = (lesson: number, hz: number, settings: Settings = {}) => {
  const {circuit, listenAt} = courseCircuit({lesson, settings});
  return magnitudeDb(frequencyResponse(circuit, listenAt, Float64Array.of(hz)))[0] ?? Number.NaN;
};

test("there are 21 lessons, and each derives from the one declaration", () => {
  expect(lessonCount).toBe(21);
  for (const lesson of lessons) {
    const {circuit, listenAt} = courseCircuit(startSetting(lesson));
    expect(circuit.nodes).toContain(listenAt);
    expect(circuit.parts.filter((each) => "signal" in each && each.signal === true).map(({ref}) => ref)).toEqual([
      "guitar",
    ]);
    courseCircuit(beforeSetting(lesson));
  }
  expect(() => courseCircuit({lesson: 22, settings: {}})).toThrow(new RangeError("there are lessons 1 to 21, got 22"));
});

// The table 'what is in the circuit when' of the course, by the parts between the cable and the amplifier.
test.each([
  [1, "", "in"],
  [2, "R1 C1 R2", "p"],
  [3, "R1 C1 R2 D3 R8 R9 C8", "p"],
  [4, "R1 C1 R2 D3 R8 R9 C8 U1", "w"],
  [5, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3", "w"],
  [6, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3", "w"],
  [7, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C5 RV2", "out"],
  [8, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C5 RV2", "out"],
  [9, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 C5 RV2", "out"],
  [10, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 D1 D2 C5 RV2", "out"],
  [11, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 D1 D2 C5 RV2", "out"],
  [12, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 D1 D2 C5 RV2", "out"],
  [13, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 D1 D2 R5 C5 RV2", "out"],
  ...[14, 15, 16, 17, 18, 19, 20, 21].map(
    (lesson) => [lesson, "R1 C1 R2 D3 R8 R9 C8 U1 RV1 R3 C3 C4 D1 D2 R5 RV3 C6 C5 RV2", "out"] as const,
  ),
] as const)("lesson %i has %s and listens at %s", (lesson, parts, listenAt) => {
  expect(
    refs(lesson)
      .filter((ref) => /^[A-Z]+\d+$/.test(ref))
      .join(" "),
  ).toBe(parts);
  expect(courseCircuit({lesson, settings: {}}).listenAt).toBe(listenAt);
  expect(part(lesson, "amplifier resistance")?.nodes).toEqual([listenAt, "0"]);
});

test("the variants of the one declaration stand where their lessons put them", () => {
  expect(part(2, "R2")?.nodes).toEqual(["p", "0"]);
  expect(part(3, "R2")?.nodes).toEqual(["p", "ref"]);
  expect(part(5, "R3")?.nodes).toEqual(["m", "ref"]);
  expect(part(5, "R3", {leg: 1})?.nodes).toEqual(["m", "0"]);
  expect(part(6, "R3")?.nodes).toEqual(["m", "n"]);
  expect(part(10, "C5")?.nodes).toEqual(["o", "w"]);
  expect(part(13, "D1")?.nodes).toEqual(["h", "ref"]);
  expect(part(13, "D2")?.nodes).toEqual(["ref", "h"]);
  expect(part(13, "C5")?.nodes).toEqual(["h", "w"]);
  expect(part(14, "C5")?.nodes).toEqual(["t", "w"]);
  expect(part(14, "R5")?.nodes).toEqual(["o", "q"]);
});

test("levels and gain start where the course says", () => {
  const level = (lesson: number) => courseCircuit({lesson, settings: {}}).phrasePeakVolts;
  expect(lessons.map(level)).toEqual(lessons.map((lesson) => ([5, 6, 7, 9].includes(lesson) ? 0.025 : 0.3)));
  const gain = (lesson: number) => startSetting(lesson).settings["RV1"];
  expect([5, 6, 7, 8, 9, 10, 16].map(gain)).toEqual([0.09, 0.09, 0.09, 1, 0.5, 0.5, 0.5]);
  expect(startSetting(12).settings["C3"]).toBe(330e-9);
});

test("'before' is what the course compares with", () => {
  expect(beforeSetting(1)).toEqual({lesson: 1, settings: {cable: 0.5}});
  expect(beforeSetting(2)).toEqual({lesson: 1, settings: {}});
  expect(beforeSetting(8)).toEqual({lesson: 8, settings: {RV1: 0.09}});
  expect([11, 12, 13, 14].map((lesson) => beforeSetting(lesson).lesson)).toEqual([10, 10, 10, 10]);
  expect(beforeSetting(15).lesson).toBe(14);
  expect([16, 17, 18, 19, 20, 21].map((lesson) => beforeSetting(lesson))).toEqual(
    Array.from({length: 6}, () => wireSetting),
  );
});

test("every control starts on one of its stops, and every stop builds a circuit", () => {
  for (const lesson of lessons) {
    for (const {name, values, start, choices} of controlsOf(lesson)) {
      expect(values, `${lesson} ${name}`).toContain(start);
      expect([...values].sort((a, b) => a - b)).toEqual(values);
      if (choices !== undefined) expect(choices).toHaveLength(values.length);
      for (const value of values) courseCircuit({lesson, settings: {[name]: value}});
    }
    expect(turnedControls(lesson).map(({name}) => name)).toEqual(lessonDeclaration(lesson).turns);
  }
});

test("every control changes something that one can measure or hear", () => {
  const whole = (settings: Settings) => JSON.stringify(courseCircuit({lesson: 16, settings}));
  for (const {name, values, start} of controlsOf(16)) {
    const other = values.find((value) => value !== start) ?? start;
    expect(whole({[name]: other}), name).not.toBe(whole({}));
  }
});

test("one setting is one circuit, and what is worked out of it serves all who ask; another setting is another", () => {
  const setting = startSetting(10);
  expect(courseCircuit(setting)).toBe(courseCircuit(setting));
  const turned = {...setting, settings: {...setting.settings, RV1: 1}};
  expect(courseCircuit(turned).circuit.parts).not.toEqual(courseCircuit(setting).circuit.parts);
});

test("an unknown control or an impossible value is an error that says so", () => {
  expect(() => courseCircuit({lesson: 1, settings: {C1: 1e-9}})).toThrow(
    /^lesson 1 has no control "C1"; it has phraseLevel, /,
  );
  expect(() => courseCircuit({lesson: 2, settings: {C1: -1}})).toThrow(
    "C1: capacitance must be positive, got -1 F; leave the part out for 0 F",
  );
});

test("at rest half the supply stands at the reference and nothing stands at the output", () => {
  for (const lesson of lessons.filter((each) => each >= 4)) {
    const {circuit, listenAt} = courseCircuit(startSetting(lesson));
    const point = operatingPoint(circuit);
    const [vcc, ref] = [restVoltage(point, "vcc"), restVoltage(point, "ref")];
    expect(vcc).toBeGreaterThan(8); // 9 V less one silicon drop
    expect(vcc).toBeLessThan(9);
    expect(Math.abs(ref - vcc / 2)).toBeLessThan(1e-3); // equal resistors, inputs that draw picoamperes
    expect(Math.abs(restVoltage(point, listenAt))).toBeLessThan(1e-9); // a capacitor stands before it
    expect(point.residualAmperes).toBeLessThan(1e-12);
  }
});

test("with the leg to ground and no capacitor the output leans on the rail (lesson 5)", () => {
  const point = operatingPoint(courseCircuit({lesson: 5, settings: {leg: 1}}).circuit);
  expect(restVoltage(point, "vcc") - restVoltage(point, "o")).toBeLessThan(2);
  expect(restVoltage(point, "p") - restVoltage(point, "m")).toBeGreaterThan(1);
});

test("a reversed battery is held off by D3, and gets through a wire", () => {
  const rail = (D3: number) =>
    restVoltage(operatingPoint(courseCircuit({lesson: 16, settings: {battery: 1, D3}}).circuit), "vcc");
  expect(Math.abs(rail(0))).toBeLessThan(0.1); // leakage alone
  expect(rail(2)).toBeCloseTo(-9, 6);
});

// Facts of the trade: common practice, no published source.
test("turned all the way down the gain stage is a buffer within 0.2 dB", () => {
  const gain = (hz: number) => dbAt(6, hz, {RV1: 0}) - dbAt(4, hz, {amplifierCable: 3});
  for (const hz of [82, 330, 1e3, 5e3]) expect(Math.abs(gain(hz))).toBeLessThan(0.2);
});

test("the top-cut capacitor at half gain changes nothing audible below 2 kHz and shaves the top", () => {
  const cut = (hz: number) => dbAt(9, hz) - dbAt(9, hz, {C4Fitted: 0});
  for (const hz of [82, 500, 1e3]) expect(Math.abs(cut(hz))).toBeLessThan(0.3);
  expect(Math.abs(cut(2e3))).toBeLessThan(1);
  expect(cut(1e4)).toBeLessThan(-2);
});

test("doubling the tone capacitor changes the darkest setting most and the brightest hardly at all", () => {
  const change = (RV3: number, hz: number) => dbAt(14, hz, {RV3, C6: 22e-9}) - dbAt(14, hz, {RV3});
  for (const hz of [330, 1e3, 5e3]) expect(Math.abs(change(1, hz))).toBeLessThan(1.5);
  expect(change(0, 2e3)).toBeLessThan(change(0.5, 2e3));
  expect(change(0.5, 2e3)).toBeLessThan(-2);
});

test("the bass trails the gain: 16 dB at a tenth of the turn, 18 dB at full, nearly nothing at zero", () => {
  // Hand figures of the course: low E against 2 kHz, the stage alone, so that pickup and cable drop out of the difference.
  const gap = (RV1: number) => {
    const stage = (hz: number) => dbAt(6, hz, {RV1}) - dbAt(4, hz, {amplifierCable: 3});
    return stage(2e3) - stage(82.41);
  };
  expect(gap(0)).toBeCloseTo(0.1, 1);
  expect(gap(0.1)).toBeCloseTo(16, 0);
  expect(gap(1)).toBeCloseTo(18, 0);
});

test("the pickup and its cable resonate near 4.1 kHz unplugged, near 3.35 kHz with the amplifier's cable", () => {
  const peak = (settings: Settings) => {
    const {circuit, listenAt} = courseCircuit({lesson: 1, settings});
    return responseCorners(circuit, listenAt, {lowHz: 100, highHz: 1e5}).peak.frequencyHz;
  };
  // Hand figures 1/(2π√(LC)) of the course: a damped peak lies a little below its resonance.
  expect(Math.abs(peak({amplifier: 0}) / 4134 - 1)).toBeLessThan(0.05);
  expect(Math.abs(peak({}) / 3350 - 1)).toBeLessThan(0.05);
});

test("the input corner is 4.8 Hz with the amplifier unplugged and twice that with it", () => {
  // C1 with R1 + R2, the source resistance and the guitar volume in the way: within 3 % of the hand figure.
  const corner = (settings: Settings) => {
    const {circuit} = courseCircuit({lesson: 2, settings});
    const direct = circuit.parts.filter(({ref}) => !/^(pickup|guitar|cable)/.test(ref));
    const driven = {
      parts: [...direct, {kind: "voltage source", ref: "guitar", nodes: ["in", "0"], volts: 0, signal: true} as const],
      nodes: circuit.nodes.filter((node) => !["vs", "x", "y"].includes(node)),
    };
    return responseCorners(driven, "p", {lowHz: 0.1, highHz: 1e3}).low ?? Number.NaN;
  };
  expect(Math.abs(corner({amplifier: 0}) / 4.8003 - 1)).toBeLessThan(1e-4); // closed form 1/(2π(R1+R2)C1)
  expect(Math.abs(corner({}) / 9.6 - 1)).toBeLessThan(0.02); // the amplifier's 300 pF beside C1 moves it by 1 %
});

test("the pedal alone meets the guitar with R1 + R2 once the follower is there, and with half of R2 before", () => {
  const ohms = (lesson: number) => {
    const {re, im} = inputImpedance(pedalAlone({lesson, settings: {}}), "in", Float64Array.of(330));
    return Math.hypot(re[0] ?? Number.NaN, im[0] ?? Number.NaN);
  };
  // C1 adds 15 kΩ at a right angle, the half-supply some ohms, the op-amp's inputs nothing: within 1 % of R1 + R2.
  expect(Math.abs(ohms(4) / 1004.7e3 - 1)).toBeLessThan(0.01);
  // R1 + (R2 beside the amplifier's 1 MΩ), and its 300 pF, 1.6 MΩ at 330 Hz, beside them.
  expect(ohms(2)).toBeLessThan(505e3);
  expect(guitarRefs).toHaveLength(6);
});

test("the values of the course stand in the circuit", () => {
  const values = Object.fromEntries(
    courseCircuit(startSetting(16)).circuit.parts.map((each) => [each.ref, valueOf(each)]),
  );
  expect(values).toMatchObject({
    "pickup resistance": 6.8e3,
    "pickup inductance": 2.6,
    "pickup capacitance": 100e-12,
    R1: 4.7e3,
    C1: 33e-9,
    R2: 1e6,
    R3: 3.3e3,
    C3: 68e-9,
    C4: 120e-12,
    R5: 1e3,
    C6: 10e-9,
    C5: 1e-6,
    RV1: 330e3,
    RV3: 20e3,
    RV2: 100e3,
    C8: 47e-6,
    R8: 22e3,
    R9: 22e3,
    "amplifier resistance": 1e6,
  });
  expect(values["cable"]).toBeCloseTo(470e-12, 15);
});
