const name = "part-by-part:sounds";

/** Tells everything on the page that `player` begins to sound. */
export const beginsToSound = (player: Element): boolean =>
  document.dispatchEvent(new CustomEvent(name, {detail: player}));

/** Calls `act` whenever something on the page other than `player` begins to sound. Returns a function that ends it. */
export function whenAnotherSounds(player: Element, act: () => void): () => void {
  const listen = (event: Event) => {
    if ((event as CustomEvent<Element>).detail !== player) act();
  };
  document.addEventListener(name, listen);
  return () => document.removeEventListener(name, listen);
}
