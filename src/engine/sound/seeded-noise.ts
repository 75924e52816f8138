/**
 * A source of numbers evenly spread over −1 to 1, the same ones for the same seed.
 *
 * Method: a 32-bit xorshift (Marsaglia, Journal of Statistical Software 8(14), 2003) [cited from memory].
 */
export function seededNoise(seed: number): () => number {
  // A multiplicative mix first: neighbouring seeds would otherwise begin alike.
  let state = Math.imul(seed + 1, 0x9e3779b1) | 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state / 0x80000000;
  };
}
