import {expect, test} from "vitest";
import {harmonicDistortion} from "../../src/engine/analysis/harmonic-distortion.ts";
import {startSetting, beforeSetting, type BenchSetting} from "../../src/engine/course/course-circuit.ts";
import {phrasePeaks} from "../../src/engine/course/stops.ts";
import {cycleOf, halfSwing, openAHz, withoutDiodes} from "../../src/widgets/bench-state/cycles.ts";
import {gainOverLevelDb, levelCurveOf, type LevelCurve} from "../../src/widgets/bench-state/level-curve.ts";
import {notes} from "../../src/widgets/bench-state/notes.ts";

/** What lesson 10 says in words is held here against the engine: a change of the circuit must not leave the prose behind. */
const start = startSetting(10);
const cycle = (setting: BenchSetting, peakVolts?: number) => {
  const found = cycleOf(setting, peakVolts);
  if (!found) throw new Error("lesson 10 has a gain stage");
  return found;
};
const curve = (setting: BenchSetting, frequencyHz = openAHz): LevelCurve => {
  const found = levelCurveOf(setting, frequencyHz);
  if (!found) throw new Error("lesson 10 has a gain stage");
  return found;
};
const distortion = (peakVolts: number) => harmonicDistortion(cycle(start, peakVolts).harmonics).ofFundamental;
/** First level at which the gain has fallen 1 dB under that of the lowest: where clipping begins by a usual measure. */
const startsAt = (found: LevelCurve) => {
  const gainDb = gainOverLevelDb(found);
  return found.levelVolts.find((_, k) => (gainDb[k] ?? 0) < (gainDb[0] ?? 0) - 1) ?? Infinity;
};

test("the output never falls to the input, and each step up of the level raises it by less than that of before", () => {
  const [now, before] = [curve(start), curve(beforeSetting(10))];
  const rise = ({outputVolts}: LevelCurve) => (outputVolts.at(-1) ?? 0) / (outputVolts[0] ?? 1);
  now.outputVolts.forEach((volts, k) => {
    expect(volts).toBeGreaterThan(now.inputVolts[k] ?? Infinity);
    if (k > 0) expect(volts).toBeGreaterThan(now.outputVolts[k - 1] ?? Infinity);
  });
  expect(rise(now)).toBeLessThan(0.6 * rise(before));
});

test("now starts out on the line of before, and before is straight until the op-amp runs out of supply", () => {
  const [now, before] = [curve(start), curve(beforeSetting(10))].map(gainOverLevelDb);
  expect(Math.abs((now?.[0] ?? 0) - (before?.[0] ?? 9))).toBeLessThan(0.5); // a hair of a curve 20 dB tall
  const straight = before?.filter((_, k) => (curve(start).levelVolts[k] ?? 1) <= 0.3) ?? [];
  expect(Math.max(...straight) - Math.min(...straight)).toBeLessThan(0.1); // a fixed gain
  expect(before?.at(-1)).toBeLessThan((before?.[0] ?? 0) - 3); // at the last stop it is held
});

test("the slope begins long before the lesson's level, and earlier for every higher note", () => {
  const starts = notes.map(({frequencyHz}) => startsAt(curve(start, frequencyHz)));
  expect(startsAt(curve(start))).toBeLessThan(0.3 / 3);
  for (let k = 1; k < starts.length; k++) expect(starts[k]).toBeLessThanOrEqual(starts[k - 1] ?? 0);
  expect(starts.at(-1)).toBeLessThan((starts[0] ?? 0) / 2);
});

test("down to the lowest stop the harmonics sink and both loops meet; at the highest their share falls again", () => {
  const shares = phrasePeaks.filter((volts) => volts <= 0.3).map(distortion);
  for (let k = 1; k < shares.length; k++) expect(shares[k]).toBeGreaterThan(shares[k - 1] ?? 1);
  expect(distortion(1)).toBeLessThan(distortion(0.3));
  const [lowest = 0] = phrasePeaks;
  const ratio = halfSwing(cycle(start, lowest).output) / halfSwing(cycle(withoutDiodes(start), lowest).output);
  expect(ratio).toBeGreaterThan(0.95); // they nearly lie on each other
});

test("from half to full the gain control nearly doubles a quiet note, and hardly moves a loud one", () => {
  const full = {...start, settings: {...start.settings, RV1: 1}};
  const grows = (peakVolts: number) =>
    halfSwing(cycle(full, peakVolts).output) / halfSwing(cycle(start, peakVolts).output);
  expect(grows(0.01)).toBeGreaterThan(1.7);
  expect(grows(1)).toBeLessThan(1.1);
});

test("one diode alone makes even harmonics, and either alone makes them alike", () => {
  const alone = [2, 3].map((diodesFitted) => cycle({...start, settings: {...start.settings, diodesFitted}}));
  const seconds = alone.map(({harmonics: {amplitude}}) => (amplitude[2] ?? 0) / (amplitude[1] ?? 1));
  expect(Math.min(...seconds)).toBeGreaterThan(0.1);
  expect(Math.abs((seconds[0] ?? 0) / (seconds[1] ?? 1) - 1)).toBeLessThan(1e-3); // the circuit is the same upside down
  const [both = 1, fundamental = 1] = [cycle(start).harmonics.amplitude[2], cycle(start).harmonics.amplitude[1]];
  expect(both / fundamental).toBeLessThan(1e-6);
});

test("a D2 of twice the voltage lets the lower half reach further, and brings even harmonics", () => {
  const {output, harmonics} = cycle({...start, settings: {...start.settings, D2InSeries: 2}});
  const both = cycle(start).output;
  expect(Math.max(...output) / Math.max(...both)).toBeCloseTo(1, 1.7); // D1 holds what it held
  expect(-Math.min(...output)).toBeGreaterThan(1.3 * Math.max(...output));
  expect((harmonics.amplitude[2] ?? 0) / (harmonics.amplitude[1] ?? 1)).toBeGreaterThan(0.05);
});

test("one diode alone holds its half where both held it, and lets the other go as far as none does", () => {
  const outputAt = (diodesFitted: number) => cycle({...start, settings: {...start.settings, diodesFitted}}).output;
  const [none, both, alone] = [0, 1, 2].map(outputAt);
  const [up, down] = [Math.max, Math.min].map(
    (end) =>
      (wave: Float64Array = new Float64Array(1)) =>
        end(...wave),
  );
  expect((up?.(alone) ?? 0) / (up?.(both) ?? 1)).toBeCloseTo(1, 1.7); // to a hundredth: three figures are printed
  expect((down?.(alone) ?? 0) / (down?.(none) ?? 1)).toBeCloseTo(1, 1.7);
});
