/** Half power in decibels: a corner lies this far below the level it is measured from. */
export const halfPowerDb = 10 * Math.log10(2);

export type CurvePoint = Readonly<{frequencyHz: number; gainDb: number}>;

/** What one reads off a response curve. A corner that the curve does not reach is absent. */
export type Corners = Readonly<{
  peak: CurvePoint;
  /** −3 dB point below the peak, in hertz. */
  low?: number;
  /** −3 dB point above the peak, in hertz. */
  high?: number;
  /** Slope at the ends of the curve in decibels an octave: positive where it rises. */
  slopeAtLowEnd: number;
  slopeAtHighEnd: number;
}>;

/** A curve with two levels and what lies between them: a first-order shelf has its zero at one corner, its pole at the other. */
export type Shelf = Readonly<{lowDb: number; highDb: number; lowerHz: number; upperHz: number}>;

/**
 * Peak, −3 dB points and end slopes of a sampled curve.
 *
 * @param frequenciesHz ascending and positive; length F, 3 or more
 * @param gainDb level at each, in decibels; length F
 * @param options.referenceDb level that the −3 dB points are measured from: by default the peak
 * @returns the peak by a parabola through its three highest points on a logarithmic axis, the −3 dB points by straight lines
 *   there: with 100 points a decade within 0.1 % of the frequency
 * @throws {RangeError} if the lengths differ or are under 3, or the frequencies do not ascend
 */
export function cornersOf(
  frequenciesHz: Float64Array,
  gainDb: Float64Array,
  {referenceDb}: Readonly<{referenceDb?: number}> = {},
): Corners {
  checkCurve(frequenciesHz, gainDb);
  const octaves = frequenciesHz.map(Math.log2);
  const top = gainDb.reduce((best, level, k) => (level > (gainDb[best] ?? -Infinity) ? k : best), 0);
  const peak = parabolaTop(octaves, gainDb, top);
  const wanted = (referenceDb ?? peak.gainDb) - halfPowerDb;
  const low = crossing(octaves, gainDb, top, -1, wanted);
  const high = crossing(octaves, gainDb, top, 1, wanted);
  const slope = (k: number) => {
    const [here, next] = [gainDb[k] ?? 0, gainDb[k + 1] ?? 0];
    // Silence at both points lies flat.
    return here === next ? 0 : (next - here) / ((octaves[k + 1] ?? 0) - (octaves[k] ?? 0));
  };
  return {
    peak,
    ...(low === undefined ? {} : {low}),
    ...(high === undefined ? {} : {high}),
    slopeAtLowEnd: slope(0),
    slopeAtHighEnd: slope(octaves.length - 2),
  };
}

/**
 * The two corners of a curve that goes from one level to another, from the levels at its ends and the frequency half way
 * between them in decibels: exact for a first-order shelf, |H|² = g²·(1 + (f/z)²)/(1 + (f/p)²), whose mid level lies at √(z·p).
 *
 * @returns undefined if the ends differ by less than 0.01 dB or are silent, or the curve does not pass half way between them
 */
export function shelfOf(frequenciesHz: Float64Array, gainDb: Float64Array): Shelf | undefined {
  checkCurve(frequenciesHz, gainDb);
  const [lowDb, highDb] = [gainDb[0] ?? 0, gainDb.at(-1) ?? 0];
  if (!(Math.abs(highDb - lowDb) >= 0.01 && Math.abs(highDb - lowDb) < Infinity)) return undefined;
  const octaves = frequenciesHz.map(Math.log2);
  const middleHz = crossing(octaves, gainDb, 0, 1, (lowDb + highDb) / 2);
  return middleHz === undefined ? undefined : shelfFrom(lowDb, highDb, middleHz);
}

/** A shelf from its two levels in decibels and the frequency half way between them. */
export function shelfFrom(lowDb: number, highDb: number, middleHz: number): Shelf {
  const ratio = 10 ** (Math.abs(highDb - lowDb) / 40);
  return {lowDb, highDb, lowerHz: middleHz / ratio, upperHz: middleHz * ratio};
}

function checkCurve(frequenciesHz: Float64Array, gainDb: Float64Array): void {
  if (frequenciesHz.length !== gainDb.length || frequenciesHz.length < 3) {
    throw new RangeError(
      `a curve needs 3 or more points, as many levels as frequencies, got ${frequenciesHz.length} and ${gainDb.length}`,
    );
  }
  frequenciesHz.forEach((hz, k) => {
    const before = frequenciesHz[k - 1] ?? 0;
    if (!(hz > before)) throw new RangeError(`frequencies must ascend: ${hz} Hz follows ${before} Hz at index ${k}`);
  });
}

/** Nearest place on one side of `from` where the curve passes `wanted`, in hertz. */
function crossing(
  octaves: Float64Array,
  gainDb: Float64Array,
  from: number,
  side: 1 | -1,
  wanted: number,
): number | undefined {
  for (let k = from; k + side >= 0 && k + side < octaves.length; k += side) {
    const [here, next] = [gainDb[k] ?? 0, gainDb[k + side] ?? 0];
    if (here === next || (here - wanted) * (next - wanted) > 0) continue;
    const share = (here - wanted) / (here - next);
    return 2 ** ((octaves[k] ?? 0) + share * ((octaves[k + side] ?? 0) - (octaves[k] ?? 0)));
  }
  return undefined;
}

function parabolaTop(octaves: Float64Array, gainDb: Float64Array, top: number): CurvePoint {
  const [x0, x1, x2] = [octaves[top - 1], octaves[top] ?? 0, octaves[top + 1]];
  const [y0, y1, y2] = [gainDb[top - 1], gainDb[top] ?? 0, gainDb[top + 1]];
  const summit = {frequencyHz: 2 ** x1, gainDb: y1};
  if (x0 === undefined || x2 === undefined || y0 === undefined || y2 === undefined) return summit;
  const left = (y1 - y0) / (x1 - x0);
  const right = (y2 - y1) / (x2 - x1);
  const curvature = (right - left) / (x2 - x0);
  if (!(curvature < 0)) return summit;
  const x = (x0 + x1) / 2 - left / (2 * curvature);
  return {frequencyHz: 2 ** x, gainDb: y0 + left * (x - x0) + curvature * (x - x0) * (x - x1)};
}
