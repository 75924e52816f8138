import type {Potentiometer, VariableResistor} from "./part.ts";
import {taperLaw} from "./taper.ts";

/** Less of a track than this, in ohms, is no resistance: the wiper's own contact has a thousand times more. */
const leastOhms = 1e-6;

const shortIfLeast = (ohms: number): number => (ohms < leastOhms ? 0 : ohms);

/** Resistance of a variable resistor where it stands, in ohms, its end resistance included. */
export function variableOhms({ohms, position, taper, middle, endOhms, reversed}: VariableResistor): number {
  return shortIfLeast(ohms * taperLaw(taper, reversed === true ? 1 - position : position, middle) + endOhms);
}

/** The two arms of a potentiometer in ohms, end resistance included: top to wiper, wiper to bottom. Either may be 0: a short. */
export function armOhms({
  ohms,
  position,
  taper,
  middle,
  endOhms = 0,
}: Potentiometer): Readonly<{upper: number; lower: number}> {
  const share = taperLaw(taper, position, middle);
  return {upper: shortIfLeast(ohms * (1 - share) + endOhms), lower: shortIfLeast(ohms * share + endOhms)};
}
