/** Corner of lesson 2 in hertz, worked out apart from the engine: f = 1/(2π(R1 + R2∥Ramp)C1), network theory. */
export const inputCornerHz = (farads: number, ohms = 4.7e3 + 500e3) => 1 / (2 * Math.PI * ohms * farads);
