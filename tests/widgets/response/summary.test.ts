import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {gainDbAt, responseOf} from "../../../src/widgets/bench-state/curves.ts";
import {
  cursorPlaces,
  gainAt,
  nominalHz,
  readingAt,
  responseCsv,
  thirdOctavesHz,
} from "../../../src/widgets/response/summary.ts";

const setting = {lesson: 2, settings: {C1: 1e-9}};
const now = responseOf(setting);
const before = responseOf(beforeSetting(2));

test("the third octaves are named as ISO 266 prints them", () => {
  // ISO 266 preferred frequencies [from memory].
  const printed = [
    20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
    4000, 5000, 6300, 8000, 10_000, 12_500, 16_000, 20_000,
  ];
  expect(thirdOctavesHz.map(nominalHz)).toEqual(printed);
});

test("a value read between two points of the curve is the circuit's own", () => {
  for (const hz of thirdOctavesHz.slice(1, -1)) {
    // A straight line over 1/58 octave beside a resonance of Q 2: below 0.005 dB.
    expect(Math.abs(gainAt(now, hz) - gainDbAt(setting, hz))).toBeLessThan(0.005);
  }
});

test("the cursor names frequency, now and before", () => {
  expect(readingAt(now, before, 1000)).toMatch(/^1\u00a0kHz: now −\d\.\d, before 0\.\d+\u00a0dB$/);
});

test("the cursor jumps to bend, humps and the six open strings", () => {
  const names = cursorPlaces(now, before).map(({name}) => name);
  expect(names.slice(0, 3)).toEqual(["bend now", "hump now", "hump before"]);
  expect(names.slice(3)).toEqual(["E", "A", "D", "G", "B", "e"].map((string) => `open ${string} string`));
  // A string and its neighbour are a fourth apart (five semitones), G and B a major third: standard tuning, common practice.
  const strings = cursorPlaces(now, before).slice(3);
  const semitones = strings
    .slice(1)
    .map(({frequencyHz}, k) => 12 * Math.log2(frequencyHz / (strings[k]?.frequencyHz ?? 1)));
  expect(semitones.map(Math.round)).toEqual([5, 5, 5, 4, 5]);
});

test("the CSV has a head and one line for each third octave", () => {
  const lines = responseCsv(responseOf(startSetting(1)), before)
    .trim()
    .split("\n");
  expect(lines[0]).toBe("frequency_hz,now_db,before_db");
  expect(lines).toHaveLength(32);
  expect(lines.every((line) => line.split(",").length === 3)).toBe(true);
});
