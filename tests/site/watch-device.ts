import type {Page} from "@playwright/test";

/** Watches what reaches the device, from a branch beside it. Call before the page opens; gives the peak of the last 0.7 s. */
export async function watchDevice(page: Page): Promise<() => Promise<number>> {
  await page.addInitScript(() => {
    const connect = AudioNode.prototype.connect as (to: AudioNode) => AudioNode;
    AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode) {
      if (to === this.context.destination) {
        const analyser = this.context.createAnalyser();
        analyser.fftSize = 32768;
        connect.call(this, analyser);
        Object.assign(globalThis, {analyser});
      }
      return connect.call(this, to);
    } as typeof AudioNode.prototype.connect;
  });
  return () =>
    page.evaluate(() => {
      const {analyser} = globalThis as unknown as {analyser?: AnalyserNode};
      const samples = new Float32Array(analyser?.fftSize ?? 0);
      analyser?.getFloatTimeDomainData(samples);
      return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
    });
}
