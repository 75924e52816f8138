/* A first sound and the drawings of a bench that has come by a link want the page's one thread at the same moment: the ear is served first. */

/** How long drawings wait for a sound at most, in milliseconds. */
const patience = 500;

let awaited: Promise<unknown> | undefined;

/** Has drawings wait until `sounding` has settled. */
export function soundFirst(sounding: Promise<unknown>): void {
  const served = Promise.race([sounding, new Promise((resolve) => setTimeout(resolve, patience))])
    .catch(() => {})
    .then(() => {
      if (awaited === served) awaited = undefined;
    });
  awaited = served;
}

/** What is fetched to draw with, but not before a sound that has been asked for meanwhile. */
export async function afterSound<Drawing>(fetched: Promise<Drawing>): Promise<Drawing> {
  const drawing = await fetched;
  await awaited;
  return drawing;
}

/** Resolves when no sound is awaited that has been asked for; undefined if none is. */
export const soundServed = (): Promise<unknown> | undefined => awaited;
