import type {Taper} from "./part.ts";

/** Share of the track that an audio taper has passed at the middle of its rotation. */
export const audioMiddle = 0.15;

export const tapers: readonly Taper[] = ["linear", "audio", "reverse audio", "two-segment audio"];

/**
 * Share of a potentiometer's track, 0 to 1, that lies between its start and the wiper at `position`, 0 to 1.
 *
 * Linear: the position itself. Audio: an exponential through `middle` half way, by default 15 %, the commoner of the two that
 * IEC 60393-1 marks "10A" and "15A". Reverse audio: the audio law seen from the other end. Two-segment audio: two straight lines that
 * meet at `middle`, as most tracks are printed in two resistances (common practice, no published source).
 *
 * @throws {RangeError} if `position` lies outside 0 to 1
 *
 * Source: tests/reference/published/12_potentiometers.json, taper.exp.mid, two_segment_law and taper.symmetry (a common
 * curve fit; no standard fixes the curve between the ends and the middle).
 */
export function taperLaw(taper: Taper, position: number, middle = audioMiddle): number {
  if (!(position >= 0 && position <= 1)) throw new RangeError(`rotation must be from 0 to 1, got ${position}`);
  if (taper === "linear") return position;
  if (taper === "two-segment audio")
    return position < 0.5 ? 2 * middle * position : 1 - 2 * (1 - middle) * (1 - position);
  return taper === "audio" ? audio(position, middle) : 1 - audio(1 - position, middle);
}

/** y = (b^x − 1)/(b − 1) passes through m at x = 1/2 when b = ((1 − m)/m)²; a straight line where that is 1. */
function audio(x: number, m: number): number {
  const b = ((1 - m) / m) ** 2;
  return b === 1 ? x : (b ** x - 1) / (b - 1);
}
