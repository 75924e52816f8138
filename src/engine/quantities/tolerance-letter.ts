/** How far a part may stray: from `low` to `high`, in percent of its value or in farads. */
export type Tolerance = Readonly<{low: number; high: number; of: "percent" | "farads"}>;

/** Letters for both sides alike, in percent. Source: IEC 60062:2016. */
const percent: Readonly<Record<string, number>> = {
  E: 0.005,
  L: 0.01,
  P: 0.02,
  W: 0.05,
  B: 0.1,
  C: 0.25,
  D: 0.5,
  F: 1,
  G: 2,
  H: 3,
  J: 5,
  K: 10,
  M: 20,
  N: 30,
};

/** Letters for electrolytic capacitors, which stray further up than down, in percent. Source: IEC 60062:2016. */
const lopsided: Readonly<Record<string, readonly [number, number]>> = {
  Q: [-10, 30],
  S: [-20, 50],
  T: [-10, 50],
  Z: [-20, 80],
};

/** Letters on capacitors below 10 pF, in picofarads either way. Source: IEC 60062:2016. */
const picofarads: Readonly<Record<string, number>> = {B: 0.1, C: 0.25, D: 0.5, F: 1, G: 2};

/**
 * What a tolerance letter means; nothing for a letter that means none.
 *
 * @param belowTenPicofarads whether it stands on a capacitor below 10 pF, where some letters count picofarads
 */
export function toleranceOf(letter: string, belowTenPicofarads = false): Tolerance | undefined {
  const small = belowTenPicofarads && Object.hasOwn(picofarads, letter) ? picofarads[letter] : undefined;
  if (small !== undefined) return {low: Number(`-${small}e-12`), high: Number(`${small}e-12`), of: "farads"};
  const both = Object.hasOwn(percent, letter) ? percent[letter] : undefined;
  if (both !== undefined) return {low: -both, high: both, of: "percent"};
  const sides = Object.hasOwn(lopsided, letter) ? lopsided[letter] : undefined;
  return sides && {low: sides[0], high: sides[1], of: "percent"};
}
