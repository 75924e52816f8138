import {expect, test} from "vitest";
import {
  box,
  edgeVolts,
  highestDb,
  highestHz,
  lowestDb,
  lowestHz,
  sizeOf,
  spectrumLine,
  waveLine,
} from "../../../src/widgets/sound-picture/lines.ts";

const points = (line: string) =>
  line
    .slice(1)
    .split("L")
    .map((point) => point.split(" ").map(Number) as [number, number]);
const hertzAt = (x: number) => lowestHz * (highestHz / lowestHz) ** (x / box.width);
const dbAt = (y: number) => highestDb - ((highestDb - lowestDb) * y) / box.height;

test("the highest point of a spectrum lies at its highest bin, wherever that is", () => {
  const hertzPerBin = 48_000 / 8192;
  for (const bin of [8, 14, 75, 333, 2000]) {
    const bins = new Float32Array(4096).fill(-80);
    bins[bin] = -12;
    const drawn = points(spectrumLine(bins, hertzPerBin));
    const [x, y] = drawn.reduce((best, point) => (point[1] < best[1] ? point : best));
    // A tenth of a unit is 0.3 % in frequency here, half of that by rounding.
    expect(Math.abs(hertzAt(x) / (bin * hertzPerBin) - 1)).toBeLessThan(0.0016);
    expect(dbAt(y)).toBeCloseTo(-12, 0);
    expect(drawn.length).toBeLessThanOrEqual(box.width + 1);
    expect(drawn.every(([each], k) => k === 0 || each > (drawn[k - 1]?.[0] ?? Infinity))).toBe(true);
  }
});

test("a wave's line meets the edge where its peak is the edge, and stops there", () => {
  const sine = Float32Array.from({length: 1200}, (_, n) => 2 * Math.sin((2 * Math.PI * n) / 400));
  const heights = points(waveLine(sine, 0, 1200, 2)).map(([, y]) => y);
  expect(Math.min(...heights)).toBe(0);
  expect(Math.max(...heights)).toBe(box.height);
  expect(Math.min(...points(waveLine(sine, 0, 1200, 1)).map(([, y]) => y))).toBe(0);
});

test("the scale is the next of 1, 2, 5 above the peak", () => {
  expect([0, 0.0004, 0.3, 0.5, 0.51, 1, 4.2, 9, 11].map(edgeVolts)).toEqual([0.001, 0.001, 0.5, 0.5, 1, 1, 5, 10, 20]);
});

test("a sine's size is its peak, and its root mean square 3 dB below", () => {
  const {peakVolts, rmsVolts} = sizeOf(Float32Array.from({length: 4800}, (_, n) => Math.sin((2 * Math.PI * n) / 48)));
  expect(peakVolts).toBeCloseTo(1, 6);
  expect(rmsVolts).toBeCloseTo(Math.SQRT1_2, 4);
});
