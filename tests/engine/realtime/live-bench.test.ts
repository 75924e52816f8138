import FFT from "fft.js";
import {describe, expect, test} from "vitest";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {controlsOf, courseCircuit, startSetting, type BenchSetting} from "../../../src/engine/course/course-circuit.ts";
import {liveBench} from "../../../src/engine/realtime/live-bench.ts";
import {voiceCircuit} from "../../../src/engine/realtime/voice-circuit.ts";
import {limiter} from "../../../src/engine/sound/limiter.ts";
import {filtered} from "../../../src/engine/sound/biquad.ts";
import {loudspeakerFilters} from "../../../src/engine/sound/loudspeaker.ts";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {peak} from "../../../src/engine/sound/samples.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {switchedFilter} from "../../../src/engine/sound/switched-filter.ts";

const rateHz = 48_000;
const block = 128;
const phrase = phraseSamples("riff", rateHz).subarray(0, rateHz);

function voice(setting: BenchSetting, oversampling = 8) {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  return voiceCircuit(circuit, listenAt, phrasePeakVolts, rateHz, oversampling);
}

/** Plays `blocks` blocks; `before` is called ahead of each. */
function played(bench: ReturnType<typeof liveBench<string>>, blocks: number, before: (n: number) => void = () => {}) {
  const out = new Float32Array(blocks * block);
  for (let n = 0; n < blocks; n++) {
    before(n);
    expect(bench.process(out.subarray(n * block, (n + 1) * block))).toBe(0);
  }
  return out;
}

const changed = (setting: BenchSetting, settings: Record<string, number>): BenchSetting => ({
  ...setting,
  settings: {...setting.settings, ...settings},
});

/** Largest second difference: a click is a corner in the curve that the sound itself has not. */
const sharpest = (samples: Float32Array) => {
  let most = 0;
  for (let n = 2; n < samples.length; n++)
    most = Math.max(most, Math.abs((samples[n] ?? 0) - 2 * (samples[n - 1] ?? 0) + (samples[n - 2] ?? 0)));
  return most;
};

describe.each([2, 6, 10, 20])("lesson %i played live", (lesson) => {
  test("is the time response of its circuit, sample for sample", () => {
    const setting = startSetting(lesson);
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
    const bench = liveBench<string>(rateHz, block);
    bench.loop(phrase);
    bench.set("now", voice(setting));
    bench.hear("now");
    bench.gain("now", 1);
    // The gain takes 20 ms to be there, the oversampling filters their latency.
    const live = played(bench, 200);
    const expected = timeResponse(
      circuit,
      listenAt,
      Float64Array.from(phrase, (x) => phrasePeakVolts * x),
      rateHz,
      {corrects: true},
    );
    const late = latencyOf(live, expected);
    for (let n = 2000; n < 20_000; n++)
      expect(Math.abs((live[n + late] ?? NaN) - (expected[n] ?? NaN)), `sample ${n}`).toBeLessThan(1e-6);
  });
});

test("a voltage that stands at the output is not heard: neither when it is turned to, nor while nothing is played", () => {
  const bench = liveBench<string>(rateHz, block);
  bench.loop(new Float32Array(rateHz));
  // In lesson 3 one listens at a node that rests at half the supply.
  const steady = voice(startSetting(3));
  expect(steady.restVolts).toBeGreaterThan(1);
  bench.set("now", steady);
  bench.set("wire", voice(startSetting(1)));
  bench.gain("now", 1);
  bench.gain("wire", 1);
  const out = played(bench, second, (n) => {
    if (n % 40 === 0) bench.hear(n % 80 === 0 ? "now" : "wire");
  });
  // Of a volt: the operating point's own accuracy.
  expect(peak(out)).toBeLessThan(1e-6);
});

test("a battery changed for one of twice its voltage makes no thump", () => {
  const bench = liveBench<string>(rateHz, block);
  bench.loop(new Float32Array(rateHz));
  const at = (batteryVolts: number) => voice(changed(startSetting(3), {batteryVolts}));
  bench.set("now", at(9));
  bench.gain("now", 1);
  bench.hear("now");
  const out = played(bench, 8 * second, (n) => {
    if (n === second) bench.set("now", at(18));
  });
  // Behind the loudspeaker, which plays nothing slow: 40 dB under the 300 mV of the phrase at most.
  const heard = filtered(out, loudspeakerFilters(rateHz));
  expect(peak(heard)).toBeLessThan(3e-3);
  // And in the end nothing stands there.
  expect(Math.abs(out.at(-1) ?? NaN)).toBeLessThan(1e-4);
});

test("what is watched is the source and the output of the voice that is heard, before any gain", () => {
  const setting = startSetting(10);
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  const bench = liveBench<string>(rateHz, block);
  bench.loop(phrase);
  bench.set("now", voice(setting));
  bench.set("wire", voice(startSetting(1)));
  bench.hear("now");
  bench.gain("now", 0.01);
  bench.gain("wire", 5);
  const [source, output] = [new Float32Array(200 * block), new Float32Array(200 * block)];
  for (let n = 0; n < 200; n++) {
    const at = [n * block, (n + 1) * block] as const;
    const watched = {source: source.subarray(...at), output: output.subarray(...at)};
    bench.process(new Float32Array(block), undefined, watched);
  }
  const volts = Float64Array.from(phrase, (x) => phrasePeakVolts * x);
  const expected = timeResponse(circuit, listenAt, volts, rateHz, {corrects: true});
  const late = latencyOf(output, expected);
  for (let n = 2000; n < 20_000; n++) {
    // Single precision.
    expect(Math.abs((source[n] ?? NaN) - (volts[n] ?? NaN))).toBeLessThan(1e-7);
    expect(Math.abs((output[n + late] ?? NaN) - (expected[n] ?? NaN))).toBeLessThan(1e-6);
  }
});

/** By how many samples one signal is late after another. */
function latencyOf(late: Float32Array, early: Float64Array): number {
  const missAt = (lag: number) => {
    let sum = 0;
    for (let n = 2000; n < 4000; n++) sum += ((late[n + lag] ?? 0) - (early[n] ?? 0)) ** 2;
    return sum;
  };
  return Array.from({length: 80}, (_, lag) => lag).reduce((best, lag) => (missAt(lag) < missAt(best) ? lag : best));
}

/** A sine that comes round after a second, as the loop of a bench. */
const sine = (hertz: number, peak = 1) =>
  Float32Array.from({length: rateHz}, (_, n) => peak * Math.sin((2 * Math.PI * hertz * n) / rateHz));

const second = Math.round(rateHz / block);

test("a gain turned up in 250 ms makes no noise of its own within 90 dB of the signal", () => {
  const setting = startSetting(6);
  const bench = liveBench<string>(rateHz, block);
  bench.loop(sine(220, 0.05));
  bench.set("now", voice(changed(setting, {RV1: 0.1})));
  bench.hear("now");
  bench.gain("now", 1);
  const begin = second;
  const turning = Math.round((0.25 * rateHz) / block);
  // A pointer moves a control some hundred times a second: every third block, 8 ms.
  const out = played(bench, begin + turning + 20, (n) => {
    const turned = (n - begin) / turning;
    if (n > begin && turned <= 1 && n % 3 === 0) bench.set("now", voice(changed(setting, {RV1: 0.1 + 0.8 * turned})));
  }).subarray(begin * block);
  // Above 4 kHz a sine that slowly grows has nothing; what is there is noise of the steps.
  const noise = rmsAbove(out, 4000);
  const signal = Math.sqrt(out.reduce((sum, x) => sum + x * x, 0) / out.length);
  expect(signal).toBeGreaterThan(0.01);
  expect(20 * Math.log10(noise / signal)).toBeLessThan(-90);
});

/** RMS of what lies above a frequency, through a window without side lobes to speak of (Blackman–Harris, 92 dB). */
function rmsAbove(samples: Float32Array, hertz: number): number {
  const size = 8192;
  const from = Math.floor((samples.length - size) / 2);
  const angle = (n: number) => (2 * Math.PI * n) / size;
  const window = (n: number) =>
    0.35875 - 0.48829 * Math.cos(angle(n)) + 0.14128 * Math.cos(2 * angle(n)) - 0.01168 * Math.cos(3 * angle(n));
  const input = Array.from({length: size}, (_, n) => (samples[from + n] ?? 0) * window(n));
  const fft = new FFT(size);
  const spectrum = fft.createComplexArray();
  fft.realTransform(spectrum, input);
  let sum = 0;
  for (let k = Math.ceil((hertz * size) / rateHz); k < size / 2; k++)
    sum += 2 * ((spectrum[2 * k] ?? 0) ** 2 + (spectrum[2 * k + 1] ?? 0) ** 2);
  // Mean square of the window: 0.258.
  return Math.sqrt(sum / size / size / 0.258);
}

const switches: readonly (readonly [string, BenchSetting, BenchSetting])[] = [
  ["the diodes taken out", startSetting(10), changed(startSetting(10), {diodesFitted: 0})],
  ["C3 swapped", startSetting(10), changed(startSetting(10), {C3: 220e-9})],
  ["the gain turned at once", startSetting(10), changed(startSetting(10), {RV1: 1})],
  ["another lesson's circuit", startSetting(2), startSetting(20)],
];

test.each(switches)("no click: %s", (_, from, to) => {
  const steady = (setting: BenchSetting) => {
    const bench = liveBench<string>(rateHz, block);
    bench.loop(sine(220));
    bench.set("now", voice(setting));
    bench.hear("now");
    bench.gain("now", 1);
    return sharpest(played(bench, second).subarray(rateHz / 2));
  };
  const bench = liveBench<string>(rateHz, block);
  bench.loop(sine(220));
  bench.set("now", voice(from));
  bench.hear("now");
  bench.gain("now", 1);
  const out = played(bench, 2 * second, (n) => {
    if (n === second) bench.set("now", voice(to));
  });
  expect(sharpest(out.subarray(rateHz / 2))).toBeLessThan(1.5 * Math.max(steady(from), steady(to)));
});

test("no click: a stage is put beside the one that is heard, heard in its stead, and that one dropped", () => {
  const levels = new Map([
    [2, 1],
    [6, 0.2],
    [10, 0.1],
  ]);
  const steady = [...levels].map(([lesson, gain]) => {
    const bench = liveBench<string>(rateHz, block);
    bench.loop(sine(220));
    bench.set("stage 0", voice(startSetting(lesson)));
    bench.gain("stage 0", gain);
    bench.hear("stage 0");
    return sharpest(played(bench, second).subarray(rateHz / 2));
  });
  const bench = liveBench<string>(rateHz, block);
  bench.loop(sine(220));
  const out = played(bench, 2 * second, (n) => {
    const [[lesson, gain], place] = [[...levels][Math.floor(n / 100) % 3]!, Math.floor(n / 100) % 2];
    if (n % 100 === 0) {
      bench.set(`stage ${place}`, voice(startSetting(lesson)));
      bench.gain(`stage ${place}`, gain);
    }
    if (n % 100 === 25) bench.hear(`stage ${place}`);
    if (n % 100 === 80) bench.drop(`stage ${1 - place}`);
  });
  expect(sharpest(out.subarray(rateHz / 2))).toBeLessThan(1.5 * Math.max(...steady));
});

test("no click: another voice is heard", () => {
  const bench = liveBench<string>(rateHz, block);
  bench.loop(sine(220));
  bench.set("now", voice(startSetting(10)));
  bench.set("wire", voice(startSetting(1)));
  bench.gain("now", 0.1);
  bench.gain("wire", 1);
  bench.hear("wire");
  const steady = sharpest(played(bench, second).subarray(rateHz / 2));
  const out = played(bench, second, (n) => {
    if (n % 40 === 0) bench.hear(n % 80 === 0 ? "now" : "wire");
  });
  bench.hear("now");
  const other = sharpest(played(bench, second).subarray(rateHz / 2));
  expect(sharpest(out)).toBeLessThan(1.5 * Math.max(steady, other));
});

const hostile: readonly (readonly [string, (draw: () => number, n: number) => number])[] = [
  ["noise", (draw) => draw()],
  ["a square wave", (_, n) => (n % 100 < 50 ? 1 : -1)],
  ["a steady voltage", () => 1],
  ["noise with numbers that are none", (draw, n) => (n % 997 === 0 ? NaN : n % 991 === 0 ? Infinity : draw())],
];

test.each(hostile)("nothing passes the ceiling: 20 V of %s while parts and voices change at random", (_, sample) => {
  const bench = liveBench<string>(rateHz, block);
  const loudspeaker = switchedFilter(loudspeakerFilters(rateHz), 480);
  const {run} = limiter(rateHz);
  const draw = seededNoise(5);
  const names = ["now", "before", "stage 0"];
  bench.hear("now");
  for (const name of names) bench.gain(name, 10);
  const pick = <Value>(values: readonly Value[]) => values[Math.floor(((draw() + 1) / 2) * values.length)]!;
  let highest = 0;
  for (let n = 0; n < 120; n++) {
    if (n % 12 === 0) {
      const lesson = pick([6, 8, 9, 10, 11, 13, 14, 20]);
      const settings = Object.fromEntries(controlsOf(lesson).map(({name, values}) => [name, pick(values)]));
      const changed = pick(names);
      bench.set(changed, {...voice({lesson, settings}), peakVolts: 20});
      bench.hear(changed);
      bench.drop(pick(names.filter((name) => name !== changed)));
      loudspeaker.turn(draw() > 0);
    }
    const out = new Float32Array(block);
    bench.process(
      out,
      Float32Array.from({length: block}, (_, k) => sample(draw, n * block + k)),
    );
    loudspeaker.run(out);
    run(out);
    for (const each of out) highest = Number.isFinite(each) ? Math.max(highest, Math.abs(each)) : Infinity;
  }
  expect(highest).toBeGreaterThan(0.1);
  expect(highest).toBeLessThanOrEqual(10 ** (-1 / 20));
});

test("a note has its pitch and a filter its corner at every device's rate", () => {
  const setting = startSetting(2);
  const {circuit, listenAt} = courseCircuit(setting);
  const response = (rate: number) => {
    const bench = liveBench<string>(rate, block);
    const tone = Float32Array.from({length: rate}, (_, n) => Math.sin((2 * Math.PI * 3000 * n) / rate));
    bench.loop(tone);
    bench.set("now", voiceCircuit(circuit, listenAt, 1, rate));
    bench.hear("now");
    bench.gain("now", 1);
    const out = played(bench, Math.ceil((0.6 * rate) / block)).subarray(Math.round(rate / 2));
    const tenth = out.subarray(0, Math.round(rate / 20));
    return Math.sqrt(tenth.reduce((sum, x) => sum + x * x, 0) / tenth.length);
  };
  const [first = NaN, ...others] = [44_100, 48_000, 96_000, 192_000].map(response);
  expect(first).toBeGreaterThan(0.1);
  // 0.05 dB: the trapezoidal rule at 353 kHz and at 384 kHz differ by less at 3 kHz.
  for (const other of others) expect(Math.abs(20 * Math.log10(other / first))).toBeLessThan(0.05);
});
