import type {Page} from "@playwright/test";
import type {BenchPlayerElement} from "../../src/widgets/player/player.element.ts";

/** Samples that the player plays, voice by voice, brought out of the page as the bytes they are. */
export async function renders(page: Page): Promise<Readonly<{voice: string; samples: Float32Array}>[]> {
  const found = await page.locator("bench-player").evaluate(async (element) => {
    const played = await (element as BenchPlayerElement).renders();
    const text = (blob: Blob) =>
      new Promise<string>((resolve) => {
        const reader = new FileReader();
        reader.addEventListener("load", () => resolve(String(reader.result)));
        reader.readAsDataURL(blob);
      });
    return Promise.all(
      Object.entries(played).map(async ([voice, {samples}]) => ({
        voice,
        url: await text(new Blob([samples as Float32Array<ArrayBuffer>])),
      })),
    );
  });
  return found.map(({voice, url}) => {
    const bytes = Uint8Array.from(Buffer.from(url.slice(url.indexOf(",") + 1), "base64"));
    return {voice, samples: new Float32Array(bytes.buffer)};
  });
}
