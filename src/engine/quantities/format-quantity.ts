import {prefixes, unitFacts, type Unit} from "./unit.ts";

type Scaled = Readonly<{digits: string; prefix: (typeof prefixes)[number]; minus: boolean}>;

/**
 * A value as the course prints it: "68 nF", "4.7 kΩ", "−0.25 dB", with a no-break space before the unit.
 *
 * Three significant figures by default, trailing zeros left off after the point; decibels to a tenth below 10 dB to two
 * places. Infinite values read "∞" in words: "no limit". This is the only place that decides how a number looks.
 *
 * @throws {RangeError} if the value is NaN
 */
export function formatQuantity(value: number, unit: Unit, {figures = 3}: {figures?: number} = {}): string {
  if (Number.isNaN(value)) throw new RangeError(`a quantity in ${unit || "plain numbers"} must be a number, got NaN`);
  if (!Number.isFinite(value)) return value > 0 ? "no limit" : "no lower limit";
  const {digits, prefix, minus} = scaled(value, unit, figures);
  const symbol = `${prefix.symbol}${unit}`;
  const space = symbol === "" || unit === "°" ? "" : "\u00a0";
  return `${minus ? "\u2212" : ""}${digits}${space}${symbol}`;
}

/** The same value as it is spoken: "68 nanofarads", "4.7 kilohms", "minus 3 decibels". Throws as `formatQuantity`. */
export function spokenQuantity(value: number, unit: Unit, {figures = 3}: {figures?: number} = {}): string {
  if (!Number.isFinite(value)) return formatQuantity(value, unit);
  const {digits, prefix, minus} = scaled(value, unit, figures);
  const [one, several] = unitFacts[unit].spoken;
  const name = `${prefix.spoken}${digits === "1" && !minus ? one : several}`.replace(
    /(kilo|mega)o/,
    (_, each: string) => (each === "kilo" ? "kilo" : "mego"),
  );
  return `${minus ? "minus " : ""}${digits} ${name}`.trim();
}

function scaled(value: number, unit: Unit, figures: number): Scaled {
  const none = prefixes[5];
  const size = Math.abs(value);
  if (!unitFacts[unit].prefixed) {
    const places = unit === "dB" || unit === "LU" || unit === "°" ? decibelPlaces(size, figures) : undefined;
    const digits = places === undefined ? plain(size, figures) : trim(size.toFixed(places));
    return {digits, prefix: none, minus: value < 0 && Number(digits) !== 0};
  }
  if (size === 0) return {digits: "0", prefix: none, minus: false};
  const rounded = Number(size.toPrecision(figures));
  const exponent = Math.floor(Math.log10(rounded) + 1e-12);
  const step = Math.min(12, Math.max(-15, 3 * Math.floor(exponent / 3)));
  const prefix = prefixes.find((each) => each.exponent === step) ?? none;
  return {digits: plain(Number((rounded / 10 ** step).toPrecision(figures)), figures), prefix, minus: value < 0};
}

/** Decibels are read to the tenth from 1 up, finer below, so that "how little" can be said. */
function decibelPlaces(size: number, figures: number): number {
  if (size >= 100) return 0;
  if (size >= 1) return 1;
  return size >= 0.095 ? 2 : Math.min(figures, 3);
}

function plain(value: number, figures: number): string {
  if (value === 0) return "0";
  const digits = Math.max(0, figures - 1 - Math.floor(Math.log10(value)));
  return trim(Number(value.toPrecision(figures)).toFixed(Math.min(20, digits)));
}

const trim = (digits: string) => (digits.includes(".") ? digits.replace(/\.?0+$/, "") : digits);
