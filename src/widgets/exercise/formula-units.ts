import type {Unit} from "../../engine/quantities/unit.ts";

/*
 * Which unit a formula works out to is found by working it out twice: once with every unit as one, and once with the volt, the
 * ampere, the second and so on enlarged. A result that is a voltage grows as the volt did. The factors have no simple products.
 */
const [volt, ampere, second] = [1.7320508, 2.6457513, 0.6180339];

/** How much larger each unit is in the second working. Ohm, farad, henry and hertz follow from the first three. */
export const enlarged: Readonly<Record<Unit, number>> = {
  V: volt,
  A: ampere,
  s: second,
  Ω: volt / ampere,
  F: (ampere * second) / volt,
  H: (volt * second) / ampere,
  Hz: 1 / second,
  dB: 3.3166247,
  LU: 3.6055512,
  m: 4.1231056,
  "%": 4.3588989,
  "°": 4.7958315,
  "": 1,
};

/** The unit of a formula that gives `plain` with every unit as one, and `grown` with them enlarged; undefined for none. */
export function unitOfResult(plain: number, grown: number, expected: Unit): Unit | undefined {
  const fits = (unit: Unit) => Math.abs(grown - plain * enlarged[unit]) <= 1e-9 * Math.abs(grown);
  // Nothing at all has no unit that could be told from it.
  if (plain === 0 || fits(expected)) return expected;
  return (Object.keys(enlarged) as Unit[]).find(fits);
}
