/** The series of preferred values of IEC 60063, named by how many values they hold in a decade. */
export type Series = "E3" | "E6" | "E12" | "E24" | "E48" | "E96" | "E192";

// IEC 60063 keeps these 24 by tradition: eight of them differ from the rounded geometric steps.
const e24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
const every = (step: number) => e24.filter((_, index) => index % step === 0);

// From E48 on a value is the geometric step rounded to three figures, but for 920, which the standard prints for 919.
const geometric = (count: number) =>
  Array.from({length: count}, (_, index) => {
    const value = Math.round(100 * 10 ** (index / count));
    return value === 919 ? 920 : value;
  });

const significands: Readonly<Record<Series, readonly number[]>> = {
  E3: every(8),
  E6: every(4),
  E12: every(2),
  E24: e24,
  E48: geometric(48),
  E96: geometric(96),
  E192: geometric(192),
};

/** The significands of one decade, ascending: 10 to 91 for the series up to E24, 100 to 988 above. Source: IEC 60063. */
export function seriesDecade(series: Series): readonly number[] {
  return significands[series];
}

/**
 * Every preferred value from `low` to `high`, both included when they are preferred values; ascending.
 *
 * @throws {RangeError} if the limits are not positive and ascending
 */
export function preferredValues(series: Series, low: number, high: number): number[] {
  if (!(low > 0 && high >= low && Number.isFinite(high))) {
    throw new RangeError(`limits must be positive and ascending, got ${low} and ${high}`);
  }
  const decade = significands[series];
  const scale = (decade[0] ?? 10) === 100 ? 2 : 1;
  const values: number[] = [];
  // A hair of slack: 33e-9 typed and 33 × 10^-9 computed may differ in the last bit.
  for (let power = Math.floor(Math.log10(low)) - 1; power <= Math.ceil(Math.log10(high)); power++) {
    for (const significand of decade) {
      const value = Number(`${significand}e${power - scale}`);
      if (value >= low * (1 - 1e-12) && value <= high * (1 + 1e-12)) values.push(value);
    }
  }
  return values;
}

/**
 * The preferred value nearest to `value` by ratio.
 *
 * @throws {RangeError} if the value is not positive and finite
 */
export function nearestPreferred(value: number, series: Series): number {
  const near = preferredValues(series, value / 10, value * 10);
  return near.reduce((best, each) => (ratio(each, value) < ratio(best, value) ? each : best));
}

const ratio = (a: number, b: number) => Math.abs(Math.log(a / b));

/** Track resistances that potentiometers are sold in, in ohms; common practice, no published source. */
export const potentiometerOhms: readonly number[] = [
  1e3, 2e3, 5e3, 10e3, 20e3, 25e3, 50e3, 100e3, 250e3, 330e3, 500e3, 1e6,
];
