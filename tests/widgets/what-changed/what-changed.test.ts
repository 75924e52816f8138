import {expect, test} from "vitest";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {quickLoudness, quickRateHz} from "../../../src/widgets/player/quick-loudness.ts";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {harmonicDistortion} from "../../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {formatQuantity} from "../../../src/engine/quantities/format-quantity.ts";
import {courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {clippingChange, loudnessChange} from "../../../src/widgets/bench-state/level-change.ts";
import {nothingChanged, whatChanged} from "../../../src/widgets/what-changed/what-changed.ts";

const plain = (text: string) => text.replaceAll("\u00a0", " ");

test("equal benches have changed nothing", () => {
  expect(whatChanged({now: startSetting(2), held: startSetting(2)})).toMatch(/^Nothing has changed yet/);
});

test("where a reference that gives way lets the stage swing by itself, no peak and no distortion is told", () => {
  const {settings} = startSetting(13);
  const parts = {
    R1: 18e3,
    C1: 12e-9,
    R2: 15e3,
    R8: 33e3,
    R9: 56e3,
    C8: 2.7e-6,
    RV1: 0.27,
    RV1Ohms: 500e3,
    R3: 270,
    C3: 2.2e-6,
  };
  const others = {C4: 3.3e-9, C4Fitted: 0, U1: 6, R5: 2700, C5: 6.8e-6, RV2: 0.61, RV2Ohms: 1e6, amplifierOhms: 1.8e6};
  const outside = {
    phraseLevel: 0.5,
    guitarVolume: 0.53,
    cable: 4.7,
    D3: 0,
    D1InSeries: 1,
    D2InSeries: 2,
    amplifierCable: 15,
  };
  const now = {lesson: 13, settings: {...settings, ...parts, ...others, ...outside, amplifier: 0}};
  expect(clippingChange({now, held: startSetting(13)})).toMatch(
    /^A steady open A settles into no cycle in one of the two/,
  );
});

test("one part moved is named with both values, its corner and the gain at three places", () => {
  const now = {lesson: 2, settings: {...startSetting(2).settings, C1: 3.9e-9}};
  const sentence = plain(whatChanged({now, held: startSetting(2)}));
  expect(sentence).toMatch(/^C1: 33 nF to 3\.9 nF\. The corner moves from 9\.56 Hz to 80\.9 Hz\./); // 1/(2πRC), R = 504.7 kΩ
  expect(sentence).toMatch(/\d dB down at the low E, \d.* at 1 kHz, \d.* at 5 kHz\.$/);
});

test("where the curve does not bend as the formula says, the corner is called the formula's", () => {
  const now = {lesson: 2, settings: {...startSetting(2).settings, C1: 100e-12}};
  // 1/(2π · 504.7 kΩ · 100 pF)
  expect(plain(whatChanged({now, held: startSetting(2)}))).toContain(
    " The corner by the formula is at 3.15 kHz; the curve bends at 788 Hz. ",
  );
});

test("with the amplifier's plug out it is said what is listened to, and no level is told at the amplifier", () => {
  const view = {now: {lesson: 2, settings: {...startSetting(2).settings, amplifier: 0}}, held: startSetting(2)};
  expect(whatChanged(view)).toContain("What you hear then is the voltage at the open plug");
  expect(whatChanged({now: startSetting(2), held: view.now})).not.toContain("open plug");
  expect(loudnessChange(view)).toMatch(/^The phrase is [\d.]+\sdB \w+ at its plug, /);
  expect(loudnessChange(view)).not.toContain("at the amplifier");
});

test("parts that a lesson adds are told first", () => {
  expect(whatChanged({now: startSetting(2), held: beforeSetting(2)})).toMatch(/^R1, C1, R2 put in\./);
});

test("only what a reader can move counts as a change", () => {
  expect(nothingChanged({now: startSetting(2), held: startSetting(2)})).toBe(true);
  expect(nothingChanged({now: startSetting(10), held: beforeSetting(10)})).toBe(false);
});

test("a circuit that clips is told by peak and distortion of the open A at the amplifier, as fine cycles have them", () => {
  const view = {now: startSetting(10), held: beforeSetting(10)};
  const [now, before] = [view.now, view.held].map((setting) => {
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
    // 110 Hz: two octaves under A = 440 Hz (ISO 16).
    const wave = steadyCycle(circuit, {frequencyHz: 110, peakVolts: phrasePeakVolts}, [listenAt]).at.get(listenAt);
    if (!wave) throw new Error("the amplifier hangs on a node");
    const swing = (Math.max(...wave) - Math.min(...wave)) / 2;
    return {swing, distortion: harmonicDistortion(harmonicsOf(wave)).ofFundamental};
  });
  const said = plain(clippingChange(view));
  const [, was, wasUnit, is, isUnit, down] =
    /from ([\d.]+) (m?V) to ([\d.]+) (m?V) of peak at the amplifier, ([\d.]+) dB down/.exec(said) ?? [];
  const volts = (digits = "", unit = "") => Number(digits) * (unit === "mV" ? 1e-3 : 1);
  // Three figures are printed, and a peak may fall between two of 128 points: a hundredth.
  expect(volts(is, isUnit) / (now?.swing ?? 0)).toBeCloseTo(1, 1.7);
  expect(volts(was, wasUnit) / (before?.swing ?? 0)).toBeCloseTo(1, 1.7);
  expect(Number(down)).toBeCloseTo(20 * Math.log10((before?.swing ?? 0) / (now?.swing ?? 1)), 0); // likewise, in decibels
  const percent = Number(/distortion goes from less than 0\.1 % to ([\d.]+) %/.exec(said)?.[1]);
  expect(Math.abs(percent - 100 * (now?.distortion ?? 0))).toBeLessThan(1); // two figures are printed
});

test("circuits that could clip nothing do not speak of it, and a change of level alone is told as louder", () => {
  expect(clippingChange({now: startSetting(2), held: beforeSetting(2)})).toBe("");
  const louder = {lesson: 2, settings: {...startSetting(2).settings, phraseLevel: 1}};
  const softer = {lesson: 2, settings: {...startSetting(2).settings, phraseLevel: 0.1}};
  // A linear circuit: ten times the level is 20 dB more, whatever the phrase.
  expect(plain(loudnessChange({now: louder, held: softer}))).toBe(
    "The phrase is 20 dB louder, at the amplifier as behind the loudspeaker, where the player measures.",
  );
  expect(loudnessChange({now: startSetting(2), held: startSetting(2)})).toBe("The phrase is as loud as before.");
});

test("where the phrase level moved, the steady note says the level of each, since before kept its own", () => {
  const now = {lesson: 10, settings: {...startSetting(10).settings, phraseLevel: 0.1}};
  expect(plain(clippingChange({now, held: beforeSetting(10)}))).toMatch(
    /^A steady open A, now with 100 mV from the guitar and before with 300 mV, goes from /,
  );
  expect(plain(clippingChange({now: startSetting(10), held: beforeSetting(10)}))).not.toContain("from the guitar");
});

test("what is said of loudness behind the loudspeaker is what the player turns the louder one down by", () => {
  const long = {lesson: 1, settings: {...startSetting(1).settings, cable: 20}};
  for (const now of [startSetting(1), long, startSetting(10)]) {
    const view = {now, held: beforeSetting(now.lesson)};
    const [, digits] = /is [\d.]+ dB (?:louder|quieter) at the amplifier, ([\d.]+ dB) behind/.exec(
      plain(loudnessChange(view)),
    ) ?? [""];
    const sound = new Float32Array(phraseSamples("riff", quickRateHz));
    const [loudness, before] = [view.now, view.held].map((setting) => quickLoudness(setting, sound));
    expect(digits).toBe(plain(formatQuantity(Math.abs((loudness ?? NaN) - (before ?? NaN)), "dB")));
  }
}, 60_000);
