import type {Samples} from "../../engine/sound/samples.ts";

/** Units of each of the two pictures. */
export const box = {width: 240, height: 96} as const;
/** What the waveform shows at once, in seconds: two turns of the low E string. */
export const spanSeconds = 0.025;
/** What the spectrum shows: hertz, and decibels of a sine whose peak is 1 V. */
export const [lowestHz, highestHz] = [20, 20_000];
export const [lowestDb, highestDb] = [-90, 20];

/** Volts at the edge of the waveform's picture: the next of 1, 2, 5, 10, … millivolts and volts above `peakVolts`. */
export function edgeVolts(peakVolts: number): number {
  if (!(peakVolts > 1e-3)) return 1e-3;
  const decade = 10 ** Math.floor(Math.log10(peakVolts) + 1e-9);
  return decade * ([1, 2, 5].find((step) => peakVolts <= step * decade * (1 + 1e-9)) ?? 10);
}

/** The line of `span` samples from `from` on, `edge` volts reaching to the edge. */
export function waveLine(samples: Samples, from: number, span: number, edge: number): string {
  const points: string[] = [];
  for (let x = 0; x <= box.width; x++) {
    const volts = samples[from + Math.min(span - 1, Math.round((x * span) / box.width))] ?? 0;
    points.push(`${x} ${yOfShare(volts / edge).toFixed(1)}`);
  }
  return `M${points.join("L")}`;
}

const yOfShare = (share: number) => (box.height / 2) * (1 - Math.max(-1, Math.min(1, share)));

export const xOfHz = (hertz: number) => (box.width * Math.log(hertz / lowestHz)) / Math.log(highestHz / lowestHz);
export const yOfDb = (db: number) =>
  (box.height * (highestDb - Math.max(lowestDb, Math.min(highestDb, db)))) / (highestDb - lowestDb);

/**
 * A line over log frequency, one point a pixel at most: the highest bin of those that fall on one pixel, at its own frequency.
 *
 * @param binsDb level of the bins from 0 Hz on, in decibels of a sine of peak 1 V
 */
export function spectrumLine(binsDb: Float32Array, hertzPerBin: number): string {
  const points: string[] = [];
  let pixel = -1;
  let highest = 0;
  const put = () => {
    if (highest > 0)
      points.push(`${xOfHz(highest * hertzPerBin).toFixed(1)} ${yOfDb(binsDb[highest] ?? lowestDb).toFixed(1)}`);
  };
  for (let bin = Math.ceil(lowestHz / hertzPerBin); bin < binsDb.length && bin * hertzPerBin <= highestHz; bin++) {
    const at = Math.floor(xOfHz(bin * hertzPerBin));
    if (at !== pixel) {
      put();
      [pixel, highest] = [at, bin];
    } else if ((binsDb[bin] ?? -Infinity) > (binsDb[highest] ?? -Infinity)) highest = bin;
  }
  put();
  return `M${points.join("L")}`;
}

/** Peak and root mean square of samples in volts. */
export function sizeOf(samples: Samples): Readonly<{peakVolts: number; rmsVolts: number}> {
  let [highest, sum] = [0, 0];
  for (let n = 0; n < samples.length; n++) {
    const volts = samples[n] as number;
    highest = Math.max(highest, Math.abs(volts));
    sum += volts * volts;
  }
  return {peakVolts: highest, rmsVolts: Math.sqrt(sum / Math.max(1, samples.length))};
}
