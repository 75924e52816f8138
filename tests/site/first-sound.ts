import type {Page} from "@playwright/test";

/** When a page was pressed and when sound left its sound thread, in milliseconds of the page's clock. */
export type FirstSound = Readonly<{pressed: number; sounded: number}>;

/** Notes in the page when it is pressed first, and when the first sample that is not 0 leaves the sound thread. Before it opens. */
export const watchFirstSound = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const times: {pressed?: number; sounded?: number} = {};
    Object.assign(globalThis, {times});
    addEventListener("pointerdown", ({timeStamp}) => (times.pressed ??= timeStamp), true);
    const Original = AudioWorkletNode;
    globalThis.AudioWorkletNode = class extends Original {
      constructor(...given: ConstructorParameters<typeof AudioWorkletNode>) {
        super(...given);
        const analyser = this.context.createAnalyser();
        analyser.fftSize = 32768; // the longest memory there is: 0.7 s
        this.connect(analyser);
        const samples = new Float32Array(analyser.fftSize);
        const look = setInterval(() => {
          analyser.getFloatTimeDomainData(samples);
          const first = samples.findIndex((sample) => sample !== 0);
          if (first < 0) return;
          clearInterval(look);
          // The memory ends now: what was heard first lies that far back.
          times.sounded = performance.now() - (1000 * (samples.length - first)) / this.context.sampleRate;
        }, 4);
      }
    };
  });

/** Waits for the first sound. */
export async function firstSound(page: Page): Promise<FirstSound> {
  await page.waitForFunction(() => "sounded" in (globalThis as unknown as {times: object}).times, undefined, {
    timeout: 60_000,
  });
  return page.evaluate(() => (globalThis as unknown as {times: FirstSound}).times);
}
