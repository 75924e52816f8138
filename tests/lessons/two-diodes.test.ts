import {expect, test} from "vitest";
import {harmonicDistortion} from "../../src/engine/analysis/harmonic-distortion.ts";
import {restVoltage, operatingPoint} from "../../src/engine/analysis/operating-point.ts";
import {partNamed} from "../../src/engine/circuit/changes.ts";
import {circuit} from "../../src/engine/circuit/circuit.ts";
import type {NodeName, Part} from "../../src/engine/circuit/part.ts";
import {courseCircuit, startSetting, beforeSetting, type BenchSetting} from "../../src/engine/course/course-circuit.ts";
import {phrasePeaks} from "../../src/engine/course/stops.ts";
import {responseOf} from "../../src/widgets/bench-state/curves.ts";
import {cycleOf, halfSwing, openAHz, withoutDiodes} from "../../src/widgets/bench-state/cycles.ts";
import {gainOverLevelDb, levelCurveOf, type LevelCurve} from "../../src/widgets/bench-state/level-curve.ts";
import {notes} from "../../src/widgets/bench-state/notes.ts";
import {readingText, type ReadingName} from "../../src/widgets/bench-state/readings.ts";

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

test("the curve of now covers that of before: a line is as wide as half a decibel", () => {
  const [now, before] = [responseOf(start).gainDb, responseOf(beforeSetting(10)).gainDb];
  expect(now.length).toBeGreaterThan(100);
  now.forEach((gainDb, k) => expect(Math.abs(gainDb - (before[k] ?? Infinity))).toBeLessThan(0.5));
});

test("down the level the gain of now rises to that of before, while the swing of both falls", () => {
  const [now, before] = [curve(start), curve(beforeSetting(10))];
  const at = (found: LevelCurve, row: Float64Array, volts: number) =>
    row[found.levelVolts.findIndex((each) => each >= volts * 0.999)] ?? Number.NaN;
  const gap = (volts: number) => at(before, gainOverLevelDb(before), volts) - at(now, gainOverLevelDb(now), volts);
  expect(gap(0.3)).toBeGreaterThan(6);
  expect(gap(0.01)).toBeLessThan(0.5);
  for (const found of [now, before])
    expect(at(found, found.outputVolts, 0.01)).toBeLessThan(0.5 * at(found, found.outputVolts, 0.3));
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

test("at the soft level the text names, the turn from half to full bends clearly more; a loud note it hardly moves", () => {
  const read = (name: ReadingName, now = start) => readingText(name, {now, held: now}).replaceAll("\u00a0", " ");
  expect(Number.parseFloat(read("softLevel")) / 1e3).toBeLessThan(0.3 / 3);
  const pattern = /^grows from (\d+) mV to (\d+) mV, and its distortion rises from ([\d.]+) % to ([\d.]+) %$/;
  const [, from, to, clean, bent] = pattern.exec(read("softTurnedUp"))?.map(Number) ?? [];
  expect((to ?? 0) / (from ?? 1)).toBeGreaterThan(1.3);
  expect((bent ?? 0) / (clean ?? 1)).toBeGreaterThan(3);
  const [, low, high] = /^grows from ([\d.]+) V to ([\d.]+) V$/.exec(read("loudTurnedUp"))?.map(Number) ?? [];
  expect((high ?? 2) / (low ?? 1)).toBeLessThan(1.02);
  const lifted = {...start, settings: {...start.settings, diodesFitted: 0}};
  expect(read("softTurnedUp", lifted), "both diodes, wherever their switch stands").toBe(read("softTurnedUp"));
});

test("a meter's diode range finds the other diode across the one it tests, the other way round; RV1 hardly joins in", () => {
  const {circuit: whole} = courseCircuit({lesson: 10, settings: {RV1: 1}});
  const ends = partNamed(whole, "D1").nodes as readonly NodeName[];
  const [anode = "", cathode = ""] = ends;
  // A milliampere, as a meter's diode range sends (common practice, no published source); over 2 V it shows no reading.
  const shows = (refs: readonly string[], [from, to]: readonly [NodeName, NodeName]) => {
    const at = (node: NodeName) => (node === to ? "0" : node);
    const parts = whole.parts
      .filter(({ref}) => refs.includes(ref))
      .map((part): Part => {
        const nodes: readonly NodeName[] = (part.nodes as readonly NodeName[]).map(at);
        return {...part, nodes} as Part;
      });
    const meter: Part = {kind: "current source", ref: "meter", nodes: ["0", from], amperes: 1e-3};
    return restVoltage(operatingPoint(circuit([...parts, meter])), from);
  };
  const both = ["D1", "D2", "RV1"];
  for (const way of [
    [anode, cathode],
    [cathode, anode],
  ] as const)
    expect(shows(both, way)).toBeLessThan(1);
  expect(shows(["D1", "RV1"], [cathode, anode])).toBeGreaterThan(2);
  const [alone, beside] = [shows(["D1"], [anode, cathode]), shows(["D1", "RV1"], [anode, cathode])];
  expect(beside / alone).toBeCloseTo(1, 2);
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
