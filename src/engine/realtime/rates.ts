/** The inner rate that live sound is stepped at, in hertz, or the nearest the device's rate can be doubled to. */
export const innerRateHz = 384_000;

/**
 * How many times the rate of a sound file its circuit is stepped at. At 48 kHz the trapezoidal rule then stays within −90 dB of
 * every independent case, those of an op-amp's fastest edges among them; at the 8 times of live sound most do, and those do not.
 */
export const fileOversampling = 64;

/** How many times a device's rate is raised for sound: 8 at 44.1 and 48 kHz, 4 at 96 kHz, 2 at 192 kHz. */
export function usualOversampling(sampleRateHz: number): number {
  return 2 ** Math.max(0, Math.min(5, Math.round(Math.log2(innerRateHz / sampleRateHz))));
}
