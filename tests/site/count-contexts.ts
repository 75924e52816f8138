import type {Page} from "@playwright/test";

/** Counts the sound devices that a page opens. Call it before the page is opened; what it returns gives the state of each. */
export async function countContexts(page: Page): Promise<() => Promise<string[]>> {
  await page.addInitScript(() => {
    const made: AudioContext[] = [];
    Object.assign(globalThis, {made});
    const Original = globalThis.AudioContext;
    globalThis.AudioContext = class extends Original {
      constructor(options?: AudioContextOptions) {
        super(options);
        made.push(this);
      }
    };
  });
  return () => page.evaluate(() => (globalThis as unknown as {made: AudioContext[]}).made.map(({state}) => state));
}
