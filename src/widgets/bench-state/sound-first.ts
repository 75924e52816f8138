/* A first sound and the drawings of a bench that came by a link want the page's one thread at the same moment: the ear is served first. */

const patience = 1000; // milliseconds that drawings wait at most

let onItsWay: Promise<void> | undefined;

/** Has drawings wait until what it returns is called, or a second is over. */
export function soundFirst(): () => void {
  let sounds = () => {};
  const waited = new Promise<void>((resolve) => {
    sounds = resolve;
    setTimeout(resolve, patience);
  });
  onItsWay = waited;
  void waited.then(() => {
    if (onItsWay === waited) onItsWay = undefined;
  });
  return sounds;
}

/** Resolves when no sound is on its way that has been asked for. */
export const afterTheSound = (): Promise<void> | undefined => onItsWay;
