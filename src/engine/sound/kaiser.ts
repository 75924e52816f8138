/**
 * Kaiser's window at `x` from −1 to 1: 1 in the middle, next to nothing at both ends. The larger `beta`, the lower the side
 * lobes and the wider the slope of a filter made with it.
 *
 * Method: Kaiser and Schafer, On the use of the I0-sinh window, IEEE Trans. ASSP 28 (1980) [from memory].
 */
export function kaiser(x: number, beta: number): number {
  return Math.abs(x) >= 1 ? 0 : besselI0(beta * Math.sqrt(1 - x * x)) / besselI0(beta);
}

/** The modified Bessel function of order 0, by its series (DLMF 10.25.2). */
function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
