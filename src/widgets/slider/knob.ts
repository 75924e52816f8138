/** A potentiometer turns through 270 degrees, from lower left to lower right, as most do (common practice). */
const sweepDegrees = 270;
const centre = 32;
const radius = 25;

/** Degrees that the pointer stands turned from straight up, for a rotation from 0 to 1. */
export const pointerTurn = (position: number) => (position - 0.5) * sweepDegrees;

/** SVG path of the arc from the lower stop to `position`, in a box of 64 by 64. */
export function arcPath(position: number): string {
  const at = (place: number) => {
    const angle = ((pointerTurn(place) - 90) * Math.PI) / 180;
    return `${(centre + radius * Math.cos(angle)).toFixed(2)} ${(centre + radius * Math.sin(angle)).toFixed(2)}`;
  };
  const large = position * sweepDegrees > 180 ? 1 : 0;
  return `M${at(0)}A${radius} ${radius} 0 ${large} 1 ${at(position)}`;
}
