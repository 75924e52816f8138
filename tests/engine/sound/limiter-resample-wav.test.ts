import fc from "fast-check";
import {expect, test} from "vitest";
import {limited} from "../../../src/engine/sound/limiter.ts";
import {resample} from "../../../src/engine/sound/resample.ts";
import {decibels, peak} from "../../../src/engine/sound/samples.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {truePeak} from "../../../src/engine/sound/true-peak.ts";
import {ceilingDb} from "../../../src/engine/sound/volts.ts";
import {readWav, wavFile} from "../../../src/engine/sound/wav.ts";
import {published} from "../../reference-cases/published.ts";

test("no input passes the ceiling that EBU R 128 permits", () => {
  const [, permitted] = published("09_loudness").expected("r128") as readonly number[];
  expect(ceilingDb).toBe(permitted);
  const wild = fc.array(
    fc.oneof(fc.double(), fc.double({min: -30, max: 30}), fc.constantFrom(1e308, -1e308, NaN, Infinity)),
    {maxLength: 2000},
  );
  fc.assert(
    fc.property(wild, fc.constantFrom(8000, 48000), (values, rate) => {
      expect(peak(limited(Float64Array.from(values), rate))).toBeLessThanOrEqual(10 ** (ceilingDb / 20));
    }),
  );
});

test("it is samples that are held: between those of hard noise the true peak lies higher, by no more than 6 dB", () => {
  const noise = seededNoise(3);
  const held = limited(
    Float64Array.from({length: 48_000}, () => 20 * noise()),
    48_000,
  );
  const above = decibels(truePeak(held)) - ceilingDb;
  expect(above).toBeGreaterThan(1);
  expect(above).toBeLessThan(6);
});

test("what is below the ceiling goes through untouched", () => {
  const noise = seededNoise(3);
  const quiet = Float32Array.from({length: 4800}, () => 0.8 * noise());
  limited(quiet, 48000).forEach((y, n) => expect(Math.abs(y - (quiet[n] ?? NaN))).toBeLessThan(1e-7)); // single precision
});

test.each([
  [44100, 48000],
  [48000, 44100],
  [48000, 192000],
  [96000, 48000],
])("a tone keeps its pitch and level from %i to %i Hz", (from, to) => {
  const sine = (rate: number) =>
    Float64Array.from({length: rate / 10}, (_, n) => Math.sin((2 * Math.PI * 3000 * n) / rate));
  const ours = resample(sine(from), from, to);
  const wanted = sine(to);
  const edge = Math.round(to * 0.003); // beyond both ends lies silence, which the filter sees this far in
  for (let n = edge; n < wanted.length - edge; n++) {
    // Kaiser window with beta 9: side lobes about -90 dB.
    expect(Math.abs((ours[n] ?? NaN) - (wanted[n] ?? NaN))).toBeLessThan(1e-4);
  }
});

test("what the lower rate can't hold is taken away", () => {
  const high = Float64Array.from({length: 9600}, (_, n) => Math.sin((2 * Math.PI * 30000 * n) / 96000));
  expect(peak(resample(high, 96000, 48000).slice(200, -200))).toBeLessThan(1e-4); // stop band about -90 dB
});

test("a loop keeps going round", () => {
  const cycle = Float64Array.from({length: 441}, (_, n) => Math.sin((2 * Math.PI * 10 * n) / 441));
  const ours = resample(cycle, 44100, 48000, {loop: true});
  expect(ours).toHaveLength(480);
  ours.forEach((y, n) => expect(Math.abs(y - Math.sin((2 * Math.PI * 10 * n) / 480))).toBeLessThan(1e-4)); // side lobes
  expect(() => resample(cycle, 0, 48000)).toThrow("sample rates must be positive, got 0 Hz and 48000 Hz");
});

test.each([16, 24] as const)("a WAV file of %i bits gives back what was written, to half a step", (bits) => {
  const noise = seededNoise(bits);
  const samples = Float64Array.from({length: 1001}, () => 0.99 * noise());
  const {sampleRateHz, channels} = readWav(wavFile(samples, 44100, bits));
  expect([sampleRateHz, channels.length, channels[0]?.length]).toEqual([44100, 1, 1001]);
  // Half a step, and a hair for single precision.
  channels[0]?.forEach((x, n) =>
    expect(Math.abs(x - (samples[n] ?? NaN))).toBeLessThanOrEqual(0.5 / 2 ** (bits - 1) + 6e-8),
  );
});

/** A WAV file by hand: kind, bits, channels, and the bytes of its samples. */
function file(kind: number, bits: number, channels: number, data: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(44 + data.length);
  const view = new DataView(bytes.buffer);
  const text = (at: number, letters: string) => bytes.set(new TextEncoder().encode(letters), at);
  text(0, "RIFF");
  view.setUint32(4, 36 + data.length, true);
  text(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, kind, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, 48000, true);
  view.setUint16(34, bits, true);
  text(36, "data");
  view.setUint32(40, data.length, true);
  bytes.set(data, 44);
  return bytes;
}

test("floats are read as they are, channel by channel", () => {
  const floats = Float32Array.of(0.25, -0.5, 1.5, -1);
  const {channels} = readWav(file(3, 32, 2, new Uint8Array(floats.buffer)));
  expect(channels).toEqual([Float32Array.of(0.25, 1.5), Float32Array.of(-0.5, -1)]);
});

test("what can't be read is refused with its reason", () => {
  const refusal = "16 and 24 bit PCM and 32 bit floats are read";
  expect(() => readWav(new Uint8Array(3))).toThrow("not a WAV file");
  expect(() => readWav(file(1, 8, 1, new Uint8Array(4)))).toThrow(
    `WAV of kind 1 with 8 bits in 1 channels; ${refusal}`,
  );
  expect(() => readWav(file(85, 16, 0, new Uint8Array(4)))).toThrow(
    `WAV of kind 85 with 16 bits in 0 channels; ${refusal}`,
  );
  expect(() => readWav(wavFile(new Float32Array(4), 48000).slice(0, 36))).toThrow("WAV file without samples");
});

test("seeded noise repeats, fills the range evenly and differs from seed to seed", () => {
  const draw = (seed: number) => {
    const noise = seededNoise(seed);
    return Array.from({length: 20000}, noise);
  };
  const [one, again, other] = [draw(1), draw(1), draw(2)];
  expect(again).toEqual(one);
  const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
  // Five standard errors: 1/sqrt(3 · 20000) for the mean, 0.298/sqrt(20000) for the square's.
  expect(Math.abs(mean(one))).toBeLessThan(0.021);
  expect(Math.abs(mean(one.map((x) => x * x)) - 1 / 3)).toBeLessThan(0.011);
  expect(Math.abs(mean(one.map((x, n) => x * (other[n] ?? NaN))))).toBeLessThan(0.012);
});
