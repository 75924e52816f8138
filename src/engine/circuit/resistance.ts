import type {Potentiometer, VariableResistor} from "./part.ts";
import {taperLaw} from "./taper.ts";

/** Resistance of a variable resistor where it stands, in ohms, its end resistance included. */
export function variableOhms({ohms, position, taper, endOhms, reversed}: VariableResistor): number {
  return ohms * taperLaw(taper, reversed === true ? 1 - position : position) + endOhms;
}

/** The two arms of a potentiometer in ohms: top to wiper, wiper to bottom. Either may be 0: a short. */
export function armOhms({ohms, position, taper}: Potentiometer): Readonly<{upper: number; lower: number}> {
  const share = taperLaw(taper, position);
  return {upper: ohms * (1 - share), lower: ohms * share};
}
