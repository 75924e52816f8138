import {potentiometerOhms, preferredValues} from "../quantities/preferred-values.ts";

/** Values of the E12 series from `low` to `high`, both included: what a part slider stops at. */
export const e12 = (low: number, high: number): readonly number[] => preferredValues("E12", low, high);

/** Rotation of a potentiometer in hundredths of its travel. */
export const rotations: readonly number[] = Array.from({length: 101}, (_, k) => k / 100);

/** Lengths of cable in metres: short, ordinary, long, absurd. */
export const cableMetres: readonly number[] = [0.5, 1, 2, 3, 4.7, 6, 8, 10, 15, 20];

/** Peak of the phrase in volts, from a soft touch to a hot pickup struck hard. */
export const phrasePeaks: readonly number[] = [0.01, 0.025, 0.05, 0.1, 0.2, 0.3, 0.5, 1];

/** Supply voltages that are sold, in volts. */
export const supplyVolts: readonly number[] = [9, 12, 18];

/** Tracks of potentiometers that are sold, in ohms. */
export const trackOhms = potentiometerOhms;
