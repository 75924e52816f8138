import {
  add,
  addI64,
  bitsOf,
  f64,
  fromBits,
  get,
  i32,
  i64,
  loadBits,
  lowHalf,
  mul,
  set,
  shiftLeftI32,
  shiftLeftI64,
  shiftRightI64,
  sub,
  andI32,
  type Code,
  type Local,
} from "./wasm-code.ts";

/** Powers of two in the table: 2^(k/128). */
export const tableLength = 128;

/** The table that the exponential reads, to be written at the start of the memory. */
export function powersOfTwo(): Float64Array {
  return Float64Array.from({length: tableLength}, (_, k) => 2 ** (k / tableLength));
}

/** Added and taken away again, this rounds a small number to a whole one and leaves that in its lowest bits. */
const rounder = 1.5 * 2 ** 52;
/** ln 2/128 in two parts, the first with its last 32 bits empty, so that whole multiples of it are exact. */
const high = highHalf(Math.LN2 / tableLength);
// ln 2 beyond the double nearest to it: 2.3190468138462996e-17 (OEIS A002162).
const low = Math.LN2 / tableLength - high + 2.3190468138462996e-17 / tableLength;

/**
 * Sets `result` to e^`of`, for |of| up to 700, to the last digit or the one before. `of` and `rest` are used up.
 *
 * Method: e^x = 2^(k/128)·e^r with |r| ≤ ln 2/256 and a polynomial of fifth order for e^r: Tang, Table-driven implementation of
 * the exponential function, ACM TOMS 15 (1989) [from memory].
 */
export function exponential(of: Local, result: Local, rest: Local, bits: Local): Code {
  const r = get(rest);
  return [
    ...set(result, add(mul(get(of), f64(tableLength / Math.LN2)), f64(rounder))),
    ...set(bits, bitsOf(get(result))),
    ...set(result, sub(get(result), f64(rounder))),
    ...set(rest, sub(sub(get(of), mul(get(result), f64(high))), mul(get(result), f64(low)))),
    // 2^(k/128): the table's entry with the whole powers of two added to its exponent.
    ...set(
      result,
      fromBits(
        addI64(
          loadBits(shiftLeftI32(andI32(lowHalf(get(bits)), i32(tableLength - 1)), i32(3)), 0),
          shiftLeftI64(shiftRightI64(shiftLeftI64(get(bits), i64(13)), i64(20)), i64(52)),
        ),
      ),
    ),
    ...set(of, mul(r, r)),
    ...set(
      rest,
      add(
        r,
        mul(get(of), add(add(f64(1 / 2), mul(r, f64(1 / 6))), mul(get(of), add(f64(1 / 24), mul(r, f64(1 / 120)))))),
      ),
    ),
    ...set(result, add(get(result), mul(get(result), get(rest)))),
  ];
}

function highHalf(value: number): number {
  const bits = new BigInt64Array(Float64Array.of(value).buffer);
  bits[0] = ((bits[0] ?? 0n) >> 32n) << 32n;
  return new Float64Array(bits.buffer)[0] ?? value;
}
