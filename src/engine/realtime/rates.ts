/** The inner rate that live sound is stepped at, in hertz, or the nearest the device's rate can be doubled to. */
export const innerRateHz = 384_000;

/** How many times the rate of a sound file a circuit is stepped at in which nothing bends the sound. */
export const fileOversampling = 64;

/** What a step may err by in any other circuit whose sound goes to a file: every independent case is then met within −105 dB. */
export const fileTolerance = 3e-7;

/** How many times a device's rate is raised for sound: 8 at 44.1 and 48 kHz, 4 at 96 kHz, 2 at 192 kHz. */
export function usualOversampling(sampleRateHz: number): number {
  return 2 ** Math.max(0, Math.min(5, Math.round(Math.log2(innerRateHz / sampleRateHz))));
}
