import {expect, test} from "vitest";
import {
  partBox,
  takenPart,
  waveLines,
  wavesCaption,
  wavesSentence,
  wholeBox,
  zeroLine,
} from "../../../src/widgets/waves/wave-lines.ts";

const rate = 48_000;
const tone = Float32Array.from({length: 2 * rate}, (_, n) => Math.sin((2 * Math.PI * 250 * n) / rate));
/** The same tone, flat above half its peak: half as strong, and nearer to a square. */
const flat = tone.map((sample) => Math.max(-0.5, Math.min(0.5, sample)));
const heights = (path: string) => [...path.matchAll(/[\d.]+ ([\d.]+)/g)].map(([, y]) => Number(y));
const reach = (path: string) => Math.max(...heights(path)) - Math.min(...heights(path));

test("a sine stands 3.01 dB over its average level, a square not at all", () => {
  // Peak over root mean square: √2 for a sine, 1 for a square. Closed form; a tenth of a decibel is printed.
  expect(wavesSentence({wire: tone, now: tone.map(Math.sign)})).toBe(
    "Highest peak over average level: wire 3\u00a0dB, overdrive 0\u00a0dB.",
  );
});

test("both are drawn to one scale: half the peak, half as tall", () => {
  const {wire, now} = waveLines({wire: tone, now: flat});
  expect(reach(wire.whole)).toBe(wholeBox.height);
  // A tenth of a pixel is written.
  expect(Math.abs(reach(now.whole) / reach(wire.whole) - 0.5)).toBeLessThan(0.005);
  expect(Math.abs(reach(now.part) / reach(wire.part) - 0.5)).toBeLessThan(0.005);
});

test("the part fills its box, with no signal in the middle of an even tone", () => {
  const {wire} = waveLines({wire: tone, now: flat});
  // Two pixels are kept at each edge for the thickness of the line.
  expect(Math.min(...heights(wire.part))).toBeCloseTo(2, 0);
  expect(Math.max(...heights(wire.part))).toBeCloseTo(partBox.height - 2, 0);
  expect(heights(zeroLine({wire: tone, now: flat}))).toEqual([partBox.height / 2]);
});

test("the part holds the 4 cycles of 250 Hz that 16 ms hold", () => {
  const middle = partBox.height / 2;
  const ys = heights(waveLines({wire: tone, now: flat}).wire.part).map((y) => y < middle - 1);
  const rises = ys.filter((above, k) => above && ys[k - 1] === false).length;
  expect(Math.abs(rises - 4)).toBeLessThanOrEqual(1); // where the part begins may cost or add one
});

test("what is drawn large is marked as wide as it lasts, and told in seconds", () => {
  const pair = {wire: tone, now: flat};
  // 16 ms of 2 s, on a drawing 480 wide.
  expect(takenPart(pair).width).toBeCloseTo((0.016 / 2) * 480, 6);
  expect(wavesCaption(pair)).toBe("The whole phrase, 2\u00a0s, and 16\u00a0ms of it drawn large.");
});

test("silence is a level line, not a division by nothing", () => {
  const silence = new Float32Array(rate);
  const {wire} = waveLines({wire: silence, now: silence});
  expect(wire.whole + wire.part).not.toContain("NaN");
  expect(reach(wire.whole)).toBe(0);
});
