import {compile} from "mathjs";
import {expect, test} from "vitest";
import {filtered, filterGainDb} from "../../../src/engine/sound/biquad.ts";
import {kWeighting} from "../../../src/engine/sound/k-weighting.ts";
import {integratedLoudness, loudnessWhenPlayed, momentaryLoudness} from "../../../src/engine/sound/loudness.ts";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {amplitude, scaled} from "../../../src/engine/sound/samples.ts";
import {truePeak} from "../../../src/engine/sound/true-peak.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, homeCases, type ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {published} from "../../reference-cases/published.ts";

const record = accuracyTable("loudness");
const facts = published("09_loudness"); // ITU-R BS.1770-5, EBU Tech 3341 (each row names its own)
const rate = 48000;

/** The independent cases' formulas, written out: samples of t seconds. */
const signals: Readonly<Record<string, (t: number) => number>> = {
  "loudness.sine997_fs": (t) => Math.sin(2 * Math.PI * 997 * t),
  "loudness.sine1k_steps": (t) => (t < 2 ? 0.1 : t < 4 ? 0.5 : 0.01) * Math.sin(2 * Math.PI * 1000 * t),
  "loudness.two_tone": (t) => 0.25 * (Math.sin(2 * Math.PI * 220 * t) + Math.sin(2 * Math.PI * 277 * t)),
  "loudness.decay110": (t) => 0.8 * Math.exp(-t / 0.8) * Math.sin(2 * Math.PI * 110 * t),
  "loudness.quiet": (t) => 1e-4 * Math.sin(2 * Math.PI * 1000 * t),
  "loudness.low82": (t) => 0.3 * Math.sin(2 * Math.PI * 82.41 * t),
};

/** A signal from the formula of its case, "x[n] = 0.25 sin(2 pi 220 n/fs) + …, 4 s". @throws {Error} if it is of another form */
function signalOf({id, source}: ReferenceCase): (t: number) => number {
  const text = /^x\[n\] = ([^,;]+)/.exec(String(source?.["formula"]))?.[1]?.trim() ?? "";
  const product = text.replaceAll(/(?<=[\w.)]) (?=[\w(])/g, "*");
  const formula = compile(product);
  const at = (t: number): number => Number(formula.evaluate({n: t * rate, t, fs: rate}));
  if (text === "" || !Number.isFinite(at(0.1))) throw new Error(`${id}: the formula "${text}" is of an unknown form`);
  return at;
}

test("a case's formula is read as it is written out here", () => {
  const readable = homeCases("loudness.").filter(({id}) => id in signals && id !== "loudness.sine1k_steps");
  expect(readable.length).toBeGreaterThan(3);
  for (const each of readable) {
    const [read, written] = [signalOf(each), signals[each.id] ?? (() => NaN)];
    for (const t of [0, 1e-3, 0.37, 1.9]) expect(read(t), each.id).toBeCloseTo(written(t), 12); // the same in double precision
  }
});

const made = (length: number, signal: (t: number) => number, sampleRateHz = rate) =>
  Float64Array.from({length}, (_, n) => signal(n / sampleRateHz));

eachCase("reads as scipy has it", casesOfKind("loudness_bs1770"), (given) => {
  const {id} = given;
  const signal = signals[id] ?? signalOf(given);
  const samples = made((given.source as unknown as {samples: number}).samples, signal);
  const tolerance = Number(given.tolerance["abs_db"]);
  expect(tolerance).toBeGreaterThan(0);
  const {integrated_gated_lkfs: integrated, block_lkfs: blocks} = given.expected as {
    integrated_gated_lkfs: number | null;
    block_lkfs: readonly number[];
  };
  const ours = integratedLoudness(samples, rate);
  const wanted = integrated ?? -Infinity;
  const difference = ours === wanted ? 0 : Math.abs(ours - wanted);
  record({id, source: given.title, expected: `${wanted} LUFS`, ours: `${ours} LUFS`, difference, tolerance});
  expect(difference).toBeLessThanOrEqual(tolerance);
  momentaryLoudness(samples, rate).forEach((each, block) => {
    expect(Math.abs(each - (blocks[block] ?? NaN)), `block ${block}`).toBeLessThanOrEqual(tolerance);
  });
});

eachCase("is the printed filter", casesOfKind("filter_response"), (given) => {
  const {mag_db: wanted, impulse_response_32: impulse} = given.expected as Record<string, number[]>;
  const frequencies = given.analysis.freqs_hz as readonly number[];
  frequencies.forEach((frequencyHz, k) => {
    const ours = filterGainDb(kWeighting(rate), Float64Array.of(frequencyHz), rate)[0] ?? NaN;
    expect(Math.abs(ours - (wanted?.[k] ?? NaN)), `${frequencyHz} Hz`).toBeLessThanOrEqual(
      Number(given.tolerance["abs_db"]),
    );
  });
  const click = Float64Array.from({length: 32}, (_each, n) => (n === 0 ? 1 : 0));
  // Closed recursion in double precision: 32 steps of rounding.
  filtered(click, kWeighting(rate)).forEach((y, n) => expect(y).toBeCloseTo(impulse?.[n] ?? NaN, 12));
});

test("the coefficients are the printed ones, and the anchors read right", () => {
  const [shelf, highPass] = kWeighting(rate).map(({b0, b1, b2, a1, a2}) => [b0, b1, b2, a1, a2]);
  facts.check("k.stage1", shelf);
  facts.check("k.stage2", highPass);
  facts.check(
    "anchor",
    integratedLoudness(
      made(5 * rate, (t) => Math.sin(2 * Math.PI * 997 * t)),
      rate,
    ),
  );
});

type Segments = readonly (readonly [number, number])[];
const tone = (segments: Segments, sampleRateHz: number) => {
  const lengths = segments.map(([, seconds]) => Math.round(seconds * sampleRateHz));
  const samples = new Float64Array(lengths.reduce((sum, length) => sum + length, 0));
  let n = 0;
  segments.forEach(([level], k) => {
    const end = n + (lengths[k] ?? 0);
    for (; n < end; n++) samples[n] = 10 ** (level / 20) * Math.sin((2 * Math.PI * 1000 * n) / sampleRateHz);
  });
  return samples;
};
const stereoDb = 10 * Math.log10(2); // the cases have two equal channels, whose powers add; ours is one

test.each(facts.rows("ebu3341.case").filter(({inputs}) => "segments_dBFS_s" in inputs))(
  "EBU Tech 3341: $id",
  ({id, inputs}) => {
    for (const sampleRateHz of [44100, 48000]) {
      facts.check(
        id,
        integratedLoudness(tone(inputs["segments_dBFS_s"] as Segments, sampleRateHz), sampleRateHz) + stereoDb,
      );
    }
  },
);

test("one channel reads 3 LU below two", () => {
  facts.check("mono.-23", integratedLoudness(tone([[-23, 20]], rate), rate));
});

test.each([
  ["ebu3341.case15", 4, 0.5, 0],
  ["ebu3341.case16", 4, 0.5, 45],
  ["ebu3341.case17", 6, 0.5, 60],
  ["ebu3341.case18", 8, 0.5, 67.5],
  ["ebu3341.case19", 4, 1.41, 45],
] as const)("EBU Tech 3341 true peak: %s", (id, divisor, amplitude, degrees) => {
  const samples = Float64Array.from(
    {length: 4800},
    // A straight start and end of 10 ms: a tone cut off hard has a true peak of its own.
    (_, n) =>
      amplitude *
      Math.min(1, n / 480, (4799 - n) / 480) *
      Math.sin((2 * Math.PI * n) / divisor + (degrees * Math.PI) / 180),
  );
  const ours = 20 * Math.log10(truePeak(samples));
  const [low = NaN, high = NaN] = facts.range(id);
  expect(ours).toBeGreaterThanOrEqual(low);
  expect(ours).toBeLessThanOrEqual(high);
});

test("louder by 6 dB reads 6 LU more, and silence has no loudness", () => {
  const samples = made(rate, (t) => 0.1 * Math.sin(2 * Math.PI * 300 * t));
  const more =
    integratedLoudness(
      samples.map((x) => 2 * x),
      rate,
    ) - integratedLoudness(samples, rate);
  facts.check("gain.law", more / (20 * Math.log10(2)));
  expect(facts.expected("silence")).toContain("-infinity");
  expect(integratedLoudness(new Float64Array(rate), rate)).toBe(-Infinity);
});

/** Bisection for the level from which on `holds`. */
function threshold(low: number, high: number, holds: (level: number) => boolean): number {
  for (let k = 0; k < 12; k++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

test("blocks last 400 ms and overlap by three quarters", () => {
  const blocks = (seconds: number) => momentaryLoudness(new Float64Array(Math.round(seconds * rate)), rate).length;
  const [length = NaN] = facts.expected("gate.block") as readonly number[];
  expect([blocks(length - 0.001), blocks(length)]).toEqual([0, 1]);
  const step = (blocks(20.4) - 1) / 20;
  facts.check("gate.block", [length, 1 - 1 / step / length], 1e-12);
});

test("what lies under the gates does not count", () => {
  const reads = (level: number) => integratedLoudness(tone([[level, 2]], rate), rate);
  // A tone at 1 kHz reads 3 LU less than its peak in one channel: the gate found is one of loudness.
  const absolute = threshold(-70, -60, (level) => reads(level) > -Infinity);
  facts.check("gate.abs", reads(absolute + 0.01) - 0.01, 0.02);
  const loud = reads(-20);
  const both = (quiet: number) =>
    integratedLoudness(
      tone(
        [
          [-20, 20],
          [quiet, 20],
        ],
        rate,
      ),
      rate,
    );
  const quiet = threshold(-40, -25, (level) => both(level) < loud - 1);
  // The mean of both is what the gate lies below; the blocks at the change are 3 of 400.
  const mean = 10 * Math.log10((10 ** (loud / 10) + 10 ** ((loud + quiet + 20) / 10)) / 2);
  facts.check("gate.rel", loud + quiet + 20 - mean, 0.1);
});

test("a full tone in one channel and in both reads as the Recommendation and two programs have it", () => {
  const reads = (hz: number) =>
    integratedLoudness(
      made(5 * rate, (t) => Math.sin(2 * Math.PI * hz * t)),
      rate,
    );
  facts.check("k.997", [reads(997), reads(1000)]);
  facts.check("anchor.both", reads(997) + stereoDb);
  const gainDb = filterGainDb(kWeighting(rate), Float64Array.of(997), rate)[0] ?? NaN;
  facts.check("offset", reads(997) - gainDb - 10 * Math.log10(0.5), 1e-4); // a tone that starts hard
  const anchors = facts.table("anchor_cross_check") as Readonly<Record<string, number>>;
  // The rows' programs start and end the tone in their own ways: a thousandth of a decibel.
  expect(Math.abs(reads(997) - (anchors["scipy_left_only"] ?? NaN))).toBeLessThan(1e-3);
  expect(Math.abs(reads(997) + stereoDb - (anchors["scipy_both"] ?? NaN))).toBeLessThan(1e-3);
  const mono = integratedLoudness(tone([[-23, 20]], rate), rate);
  expect(Math.abs(mono - (anchors["mono_-23dBFS_1kHz_scipy"] ?? NaN))).toBeLessThan(1e-3);
});

test("the filters have the published gains at 48 kHz, each and together", () => {
  type Row = Readonly<Record<"f" | "stage1_dB" | "stage2_dB" | "total_dB", number>>;
  const rows = facts.table("k_weighting_response_48k") as readonly Row[];
  expect(rows).toHaveLength(30);
  const [shelf, highPass] = kWeighting(rate);
  for (const {f, stage1_dB, stage2_dB, total_dB} of rows) {
    const gain = (...filters: readonly (typeof shelf)[]) =>
      filterGainDb(
        filters.flatMap((each) => each ?? []),
        Float64Array.of(f),
        rate,
      )[0] ?? NaN;
    expect(gain(shelf)).toBeCloseTo(stage1_dB, 8); // 1 − cos of 20 Hz against 48 kHz: eight digits
    expect(gain(highPass)).toBeCloseTo(stage2_dB, 7);
    expect(gain(shelf, highPass)).toBeCloseTo(total_dB, 7);
  }
});

test("EBU's cases read as another implementation of the printed filters has them", () => {
  type Row = Readonly<{case: number | string; scipy_from_coefficients?: number}>;
  const others = facts.table("cross_check_two_implementations") as readonly Row[];
  for (const {id, inputs} of facts.rows("ebu3341.case").filter((each) => "segments_dBFS_s" in each.inputs)) {
    const other = others.find((row) => `ebu3341.case${row.case}` === id)?.scipy_from_coefficients ?? NaN;
    const ours = integratedLoudness(tone(inputs["segments_dBFS_s"] as Segments, rate), rate) + stereoDb;
    expect(Math.abs(ours - other), id).toBeLessThan(1e-3); // where a tone changes its level within a block
  }
});

test("a quiet sound is measured as it reads once it is turned up: pauses above the gate then count", () => {
  const phrase = phraseSamples("open chords left ringing", 48_000);
  const quiet = scaled(phrase, 0.005);
  const found = loudnessWhenPlayed(quiet, 48_000, -24);
  // Turned up by the difference, an ordinary meter reads it; a hundredth of what meters may differ by.
  expect(integratedLoudness(scaled(quiet, amplitude(-24 - found)), 48_000)).toBeCloseTo(-24, 3);
  // As it is, the gate takes more away.
  expect(integratedLoudness(quiet, 48_000)).toBeGreaterThan(found + 0.1);
  expect(loudnessWhenPlayed(new Float32Array(48_000), 48_000, -24)).toBe(-Infinity);
});
