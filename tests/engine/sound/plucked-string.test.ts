import {expect, test} from "vitest";
import {loopGain, pluckedString, tuning, type Pluck} from "../../../src/engine/sound/plucked-string.ts";
import {phraseNames, phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {peak} from "../../../src/engine/sound/samples.ts";
import {published} from "../../reference-cases/published.ts";

const facts = published("15_plucked_string"); // Karplus and Strong 1983, Jaffe and Smith 1983
type Tuned = Readonly<{
  fs: number;
  f0: number;
  period_samples: number;
  N: number;
  allpass_delay: number;
  C_exact: number;
}>;
const tuned = facts.table("tuning") as readonly Tuned[];

const pluck: Pluck = {
  frequencyHz: 82.4068892282175,
  strength: 1,
  pickPosition: 0.13,
  pickupPosition: 0.21,
  fundamentalSeconds: 6,
  trebleSeconds: 1.5,
  roughness: 0.35,
  seed: 7,
};

test.each(tuned)("the all-pass of $f0 Hz at $fs Hz is the published one", ({fs, f0, period_samples, N, C_exact}) => {
  // The two-point average takes half a sample of the period.
  const ours = tuning(period_samples - 0.5, (2 * Math.PI * f0) / fs);
  expect(ours.whole).toBe(N);
  expect(ours.coefficient / C_exact).toBeCloseTo(1, 8); // the row's own tolerance, 1e-9 relative, with the table's rounding
});

test("the loss of the loop is Jaffe and Smith's", () => {
  facts.check("js.rho", loopGain(110, 2) / Math.cos((Math.PI * 110) / 48000));
});

/** Amplitude at one frequency over a stretch, by a Hann-windowed sum. */
function level(samples: Float64Array, from: number, length: number, frequencyHz: number, rate: number): number {
  let [re, im] = [0, 0];
  for (let n = 0; n < length; n++) {
    const x = (samples[from + n] ?? 0) * (1 - Math.cos((2 * Math.PI * n) / length));
    re += x * Math.cos((2 * Math.PI * frequencyHz * n) / rate);
    im += x * Math.sin((2 * Math.PI * frequencyHz * n) / rate);
  }
  return (2 * Math.hypot(re, im)) / length;
}

test.each([44100, 48000, 96000])("the fundamental falls by 60 dB in the time asked for, at %i Hz", (rate) => {
  const string = pluckedString(pluck, 4 * rate, rate);
  const window = Math.round((40 * rate) / pluck.frequencyHz);
  const lost =
    -20 *
    Math.log10(
      level(string, 3 * rate, window, pluck.frequencyHz, rate) / level(string, 0, window, pluck.frequencyHz, rate),
    );
  // 3 s of 6 s: 30 dB. A partial's neighbours leak into the window by less than 0.1 dB.
  expect(Math.abs(lost - 30)).toBeLessThan(0.1);
});

test("a pick in the middle leaves out the even partials", () => {
  const string = pluckedString(
    {...pluck, frequencyHz: 100, pickPosition: 0.5, pickupPosition: 0.3, roughness: 0},
    48000,
    48000,
  );
  const window = 9600; // 20 whole periods
  // Jaffe and Smith's comb: 46 dB down, as the loop delays each partial a little differently from the first trip on.
  expect(level(string, 0, window, 200, 48000) / level(string, 0, window, 100, 48000)).toBeLessThan(5e-3);
});

test("a hard pick is bright: 4 to 8 kHz no more than 45 dB below the whole", () => {
  // Common practice, no published source: what a pick on steel strings sounds like before the pickup dulls it.
  const rate = 48000;
  const string = pluckedString(pluck, rate / 5, rate);
  // Faded at the end: cut off hard, the low partials would leak into the band.
  string.forEach((x, n) => (string[n] = x * (0.5 + 0.5 * Math.cos((Math.PI * n) / string.length))));
  let [band, all] = [0, 0];
  for (let k = 0; k < rate / 10; k++) {
    let [re, im] = [0, 0];
    if (k * 5 > 12000) break;
    for (let n = 0; n < string.length; n++) {
      const angle = (2 * Math.PI * ((k * n) % string.length)) / string.length;
      re += (string[n] ?? 0) * Math.cos(angle);
      im += (string[n] ?? 0) * Math.sin(angle);
    }
    all += re * re + im * im;
    if (k * 5 >= 4000 && k * 5 < 8000) band += re * re + im * im;
  }
  expect(10 * Math.log10(band / all)).toBeGreaterThan(-45);
});

test("a string too high for the rate throws", () => {
  expect(() => pluckedString({...pluck, frequencyHz: 5000}, 10, 48000)).toThrow(
    "a string at 48000 Hz must lie between 0 and 4800 Hz, got 5000 Hz",
  );
});

test.each(phraseNames)("the phrase “%s” is the same each time, peaks at 1 and closes without a click", (name) => {
  const rate = 24000;
  const samples = phraseSamples(name, rate);
  expect(phraseSamples(name, rate)).toEqual(samples);
  expect(peak(samples)).toBeCloseTo(1, 6); // single precision
  expect(samples.length / rate).toBeGreaterThan(5.9);
  expect(samples.length / rate).toBeLessThan(10.1);
  const steps = samples.map((x, n) => Math.abs(x - (samples[n - 1] ?? x)));
  // Going round steps no further than the phrase itself does anywhere.
  expect(Math.abs((samples[0] ?? NaN) - (samples.at(-1) ?? NaN))).toBeLessThanOrEqual(peak(steps));
});
