/** The units that the course writes. An empty one is a plain number. */
export type Unit = "Ω" | "F" | "H" | "Hz" | "V" | "A" | "s" | "dB" | "LU" | "m" | "%" | "°" | "";

type UnitFacts = Readonly<{
  /** One and several, spoken. */
  spoken: readonly [string, string];
  /** What it measures. */
  measures: string;
  /** Whether prefixes (k, M, n, …) go with it. */
  prefixed: boolean;
  /** How people write it, in lower case, without prefix. */
  written: readonly string[];
  example: string;
}>;

/** What is known of each unit. */
export const unitFacts: Readonly<Record<Unit, UnitFacts>> = {
  Ω: facts("ohm", "ohms", "a resistance", true, ["ω", "ohm", "ohms"], "4.7 kΩ or 4k7"),
  F: facts("farad", "farads", "a capacitance", true, ["f", "farad", "farads"], "68 nF or 0.068 µF"),
  H: facts("henry", "henries", "an inductance", true, ["h", "henry", "henries"], "2.6 H"),
  Hz: facts("hertz", "hertz", "a frequency", true, ["hz", "hertz"], "440 Hz or 3.4 kHz"),
  V: facts("volt", "volts", "a voltage", true, ["v", "volt", "volts"], "4.2 V or 250 mV"),
  A: facts("ampere", "amperes", "a current", true, ["a", "ampere", "amperes", "amp", "amps"], "1.8 mA"),
  s: facts("second", "seconds", "a time", true, ["s", "second", "seconds", "sec"], "2.2 ms"),
  dB: facts("decibel", "decibels", "a ratio in decibels", false, ["db", "decibel", "decibels"], "12 dB"),
  LU: facts("loudness unit", "loudness units", "a loudness", false, ["lu"], "3 LU"),
  m: facts("metre", "metres", "a length", false, ["m", "metre", "metres", "meter", "meters"], "4.7 m"),
  "%": facts("percent", "percent", "a share in percent", false, ["%", "percent"], "5 %"),
  "°": facts("degree", "degrees", "an angle in degrees", false, ["°", "deg", "degree", "degrees"], "45°"),
  "": facts("", "", "a plain number", false, [""], "101"),
};

function facts(
  one: string,
  several: string,
  measures: string,
  prefixed: boolean,
  written: readonly string[],
  example: string,
): UnitFacts {
  return {spoken: [one, several], measures, prefixed, written, example};
}

/** SI prefixes from femto to giga with their powers of ten. */
export const prefixes = [
  {symbol: "f", exponent: -15, spoken: "femto"},
  {symbol: "p", exponent: -12, spoken: "pico"},
  {symbol: "n", exponent: -9, spoken: "nano"},
  {symbol: "µ", exponent: -6, spoken: "micro"},
  {symbol: "m", exponent: -3, spoken: "milli"},
  {symbol: "", exponent: 0, spoken: ""},
  {symbol: "k", exponent: 3, spoken: "kilo"},
  {symbol: "M", exponent: 6, spoken: "mega"},
  {symbol: "G", exponent: 9, spoken: "giga"},
  {symbol: "T", exponent: 12, spoken: "tera"},
] as const;
