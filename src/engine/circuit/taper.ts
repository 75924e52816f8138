import type {Taper} from "./part.ts";

/** Share of the track that an audio taper has passed at the middle of its rotation. */
export const audioMiddle = 0.15;

// y = (b^x − 1)/(b − 1) passes through m at x = 1/2 when b = ((1 − m)/m)².
const base = ((1 - audioMiddle) / audioMiddle) ** 2;

/**
 * Share of a potentiometer's track, 0 to 1, that lies between its start and the wiper at `position`, 0 to 1.
 *
 * Linear: the position itself. Audio: an exponential through 15 % at the middle, the commoner of the two middles that
 * IEC 60393-1 marks "10A" and "15A". Reverse audio: the audio law seen from the other end.
 *
 * @throws {RangeError} if `position` lies outside 0 to 1
 *
 * Source: tests/reference/published/12_potentiometers.json, taper.exp.mid.0.15 and taper.symmetry (a common curve fit; no
 * standard fixes the curve between the ends and the middle).
 */
export function taperLaw(taper: Taper, position: number): number {
  if (!(position >= 0 && position <= 1)) throw new RangeError(`rotation must be from 0 to 1, got ${position}`);
  if (taper === "linear") return position;
  return taper === "audio" ? audio(position) : 1 - audio(1 - position);
}

const audio = (x: number) => (base ** x - 1) / (base - 1);
