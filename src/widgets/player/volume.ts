/** Where the slider of volume starts: at 18 dB below full, well below the middle of its travel. */
export const startPosition = 10;
/** The end of its travel. */
export const fullPosition = 28;

const startDb = startPosition - fullPosition;
const lowStepDb = 3;

/**
 * Decibels below full, 0 or less, at a place of the slider: steps of 1 dB from the start up, of 3 dB below it, as an audio taper
 * leaves the lower part of the travel to what is quiet. −∞ at the lower end.
 */
export function volumeDb(position: number): number {
  if (position <= 0) return -Infinity;
  const above = position - startPosition;
  return startDb + (above < 0 ? lowStepDb * above : above);
}

/** The place of the slider that is nearest below `decibels`. */
export function positionOf(decibels: number): number {
  let position = fullPosition;
  while (position > 0 && volumeDb(position) > decibels) position -= 1;
  return position;
}

/** The volume as it is spoken. */
export function spokenVolume(position: number): string {
  const decibels = volumeDb(position);
  if (decibels === -Infinity) return "silent";
  return decibels === 0 ? "full" : `${-decibels} decibels below full`;
}

/** The factor that a slider of volume stands for, from 0 to 1. */
export const gainOf = ({value}: HTMLInputElement): number => 10 ** (volumeDb(Number(value)) / 20);

/** Keeps what is spoken of a slider of volume true, and calls `changed` when it has been moved. */
export function followVolume(slider: HTMLInputElement, changed: () => void): void {
  slider.addEventListener("input", () => {
    slider.setAttribute("aria-valuetext", spokenVolume(Number(slider.value)));
    changed();
  });
}
