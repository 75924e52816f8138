import {formatQuantity} from "../../engine/quantities/format-quantity.ts";

/** Below it lies what a cycle's steps leave, not what the circuit does. */
export const leastDistortion = 1e-3;

/** Total harmonic distortion over the fundamental in words: two figures, as a bench has them. */
export const distortionText = (share: number) =>
  share < leastDistortion ? "less than 0.1\u00a0%" : formatQuantity(100 * share, "%", {figures: 2});
