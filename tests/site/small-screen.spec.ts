import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("on a phone the small curve says which line is now and which is before, and covers no letter with it", async ({
  page,
}) => {
  await openLesson(page, "06-leg-capacitor");
  for (const width of [320, 360, 390]) {
    await page.setViewportSize({width, height: 844});
    const chart = page.locator(".response-drawing.compact");
    const words = [chart.locator(".key-now"), chart.locator(".key-before")];
    for (const word of words) await expect(word).toBeVisible();
    const letters = await chart.locator("svg text").evaluateAll((texts) =>
      texts.map((text) => {
        const {left, right, top, bottom} = text.getBoundingClientRect();
        return {left, right, top, bottom};
      }),
    );
    for (const word of words) {
      const box = await word.boundingBox();
      if (!box) throw new Error("a word of the key is not drawn");
      const met = letters.filter(
        ({left, right, top, bottom}) =>
          left < box.x + box.width && right > box.x && top < box.y + box.height && bottom > box.y,
      );
      expect(met, `${await word.textContent()} at ${width}`).toEqual([]);
    }
  }
});
