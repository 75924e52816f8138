import {amplitude} from "./samples.ts";

/**
 * Full scale per volt at the amplifier's input: 1 V is −12 dBFS, so that a pedal on a 9 V supply stays inside the scale.
 *
 * A convention of this course.
 */
export const fullScalePerVolt = amplitude(-12);

/** No sample that is played may pass this level. EBU R 128 permits a true peak of −1 dBTP at most. */
export const ceilingDb = -1;
