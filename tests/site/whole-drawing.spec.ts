import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";
import {tabTo} from "./tab-to.ts";

test.use({viewport: {width: 390, height: 844}});

test("on a phone a press opens the whole drawing as wide as the screen, and Escape closes it", async ({page}) => {
  await openLesson(page, "06-leg-capacitor");
  const button = page.getByRole("button", {name: "Whole drawing"});
  await tabTo(page, button);
  await page.keyboard.press("Enter");
  const dialog = page.getByRole("dialog", {name: "The whole drawing"});
  const drawing = dialog.locator(".schematic-drawing.wide");
  await expect(drawing).toBeVisible();
  const box = await drawing.boundingBox();
  expect(box?.width).toBeGreaterThan(370);
  expect((box?.x ?? NaN) + (box?.width ?? NaN)).toBeLessThanOrEqual(390);
  // What the fragment leaves out is here, and is told to a screen reader part by part.
  await expect(dialog.getByRole("button", {name: /^stand-in/})).toBeVisible();
  // No word is drawn under 12 px, whatever the drawing shrinks to.
  const scale = (box?.width ?? 0) / 480;
  const least = await drawing
    .locator("tspan")
    .evaluateAll((words) => Math.min(...words.map((word) => parseFloat(getComputedStyle(word).fontSize))));
  expect(least * scale).toBeGreaterThanOrEqual(12);
  await page.keyboard.press("Escape");
  await expect(dialog).toBeHidden();
  await expect(button).toBeFocused();
});

test("a press beside the parts opens it as well, a press on a part takes that in hand", async ({page}) => {
  await openLesson(page, "06-leg-capacitor");
  const compact = page.locator(".schematic-drawing.compact");
  await compact.locator("[data-ref=R3]").click();
  await expect(page.getByRole("dialog")).toBeHidden();
  await expect(compact.locator("[data-ref=R3]")).toHaveAttribute("data-lit");
  await compact.click({position: {x: 172, y: 8}});
  await expect(page.getByRole("dialog", {name: "The whole drawing"})).toBeVisible();
  await page.getByRole("button", {name: "Close"}).click();
  await expect(page.getByRole("dialog")).toBeHidden();
});
