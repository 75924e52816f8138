import {expect, test} from "vitest";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {courseCircuit, startSetting, type BenchSetting} from "../../../src/engine/course/course-circuit.ts";
import {filtered} from "../../../src/engine/sound/biquad.ts";
import {integratedLoudness} from "../../../src/engine/sound/loudness.ts";
import {loudspeakerFilters} from "../../../src/engine/sound/loudspeaker.ts";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {fullScalePerVolt} from "../../../src/engine/sound/volts.ts";
import {phraseHeadroomDb, phraseLoudness} from "../../../src/widgets/bench-state/phrase.ts";
import {phraseReadings} from "../../../src/widgets/bench-state/readings-phrase.ts";

const sixthAt = (phraseLevel: number, RV1 = 1): BenchSetting => ({lesson: 6, settings: {phraseLevel, RV1}});

/** Greatest departures of the op-amp's output from rest, up and down, with its rails in place; half a second of the phrase. */
function swings(setting: BenchSetting, times = 1) {
  const {circuit, phrasePeakVolts} = courseCircuit(setting);
  const rateHz = 48_000;
  const signal = Float64Array.from(phraseSamples("riff", rateHz), (sample) => times * phrasePeakVolts * sample);
  const rest = restVoltage(operatingPoint(circuit), "o");
  const volts = timeResponse(circuit, "o", signal, rateHz, {oversampling: 1});
  let [up, down] = [0, 0];
  for (const each of volts) {
    up = Math.max(up, each - rest);
    down = Math.max(down, rest - each);
  }
  return {up, down};
}

test("raised by a little less than its headroom the phrase stays whole, and by 6 dB more than it a rail holds it back", () => {
  const setting = sixthAt(0.025);
  const headroomDb = phraseHeadroomDb(setting) ?? NaN;
  expect(headroomDb).toBeGreaterThan(0);
  const room = 10 ** (headroomDb / 20);
  const [plain, inside, beyond] = [swings(setting), swings(setting, 0.9 * room), swings(setting, 2 * room)];
  // A linear circuit's output grows as its input; a rail is approached without a corner, hence a hundredth.
  expect(inside.up / (0.9 * room * plain.up)).toBeCloseTo(1, 1.7);
  expect(inside.down / (0.9 * room * plain.down)).toBeCloseTo(1, 1.7);
  const held = Math.min(beyond.up / (2 * room * plain.up), beyond.down / (2 * room * plain.down));
  expect(held).toBeLessThan(0.6); // at the limit it is 1/2
});

test("twice the level takes 6 dB of headroom, and none is left as no number below zero", () => {
  const [once = NaN, twice = NaN] = [sixthAt(0.05), sixthAt(0.1)].map(phraseHeadroomDb);
  expect(once - twice).toBeCloseTo(20 * Math.log10(2), 6); // without rails the circuit is linear
  const said = (setting: BenchSetting) => phraseReadings.headroom({now: setting, held: setting});
  expect(said(sixthAt(0.025))).toMatch(/^[\d.]+\u00a0dB$/);
  expect(said(sixthAt(1))).toBe("none");
  expect(said(startSetting(1))).toBe("no op-amp");
});

test("loudness without oversampling is that of twice the steps, to 0.05 dB", () => {
  for (const setting of [startSetting(2), startSetting(10)]) {
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
    const signal = Float64Array.from(phraseSamples("riff", 48_000), (sample) => phrasePeakVolts * sample);
    const volts = timeResponse(circuit, listenAt, signal, 48_000, {oversampling: 2});
    const amplifier = volts.map((each) => each * fullScalePerVolt);
    const found = phraseLoudness(setting);
    // Half of what a loudness meter may be off by.
    expect(Math.abs(found.amplifier - integratedLoudness(amplifier, 48_000))).toBeLessThan(0.05);
    const loudspeaker = integratedLoudness(filtered(amplifier, loudspeakerFilters(48_000)), 48_000);
    expect(Math.abs(found.loudspeaker - loudspeaker)).toBeLessThan(0.05);
  }
}, 30_000);
