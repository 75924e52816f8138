import {PartValueError} from "./circuit-error.ts";

/** Refuses what is no number, a text such as "4k7" among them. NaN and infinity go on to be refused for their size. */
export function checkNumber(ref: string, what: string, given: unknown): void {
  if (typeof given === "number") return;
  throw new PartValueError(`${ref}: ${what} must be a number, got ${JSON.stringify(given) ?? "nothing"}`, {ref});
}

/** Refuses a number outside a range. @throws {PartValueError} naming the part, the range and what was given */
export function checkWithin(
  ref: string,
  what: string,
  given: number,
  least: number,
  greatest: number,
  unit: string,
): void {
  checkNumber(ref, what, given);
  if (given >= least && given <= greatest) return;
  const range = `from ${written(least, unit)} to ${written(greatest, unit)}`;
  throw new PartValueError(`${ref}: ${what} must be ${range}, got ${written(given, unit)}`, {ref});
}

/** Refuses a number below `least`; infinity is let through. @throws {PartValueError} */
export function checkAtLeast(ref: string, what: string, given: number, least: number): void {
  checkNumber(ref, what, given);
  if (given >= least) return;
  throw new PartValueError(`${ref}: ${what} must be ${least} or more, got ${given}`, {ref});
}

const prefixes: Readonly<Record<number, string>> = {
  "-15": "f",
  "-12": "p",
  "-9": "n",
  "-6": "µ",
  "-3": "m",
  0: "",
  3: "k",
  6: "M",
  9: "G",
  12: "T",
};

/**
 * A value for a message: three figures and a prefix. Written out here, and not by formatQuantity, so that parts depend on nothing.
 */
export function written(given: number, unit: string): string {
  if (given === 0 || !Number.isFinite(given) || unit === "") return `${given} ${unit}`.trim();
  const power = Math.max(-15, Math.min(12, Math.floor(Math.log10(Math.abs(given)) / 3 + 1e-9) * 3));
  return `${Number((given / 10 ** power).toPrecision(3))} ${prefixes[power] ?? ""}${unit}`;
}
