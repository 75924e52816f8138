import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

const guitarParts = ["guitar", "pickup resistance", "pickup inductance", "pickup capacitance", "guitar volume"];

for (const width of [820, 390]) {
  test(`at ${width}, where the bench leaves the guitar out, lesson 1 draws it in the passage that speaks of it`, async ({
    page,
  }) => {
    await page.setViewportSize({width, height: 1000});
    await openLesson(page, "01-the-wire");
    const passage = page.locator("#what-we-add .schematic-drawing");
    for (const ref of guitarParts) await expect(passage.locator(`[data-ref="${ref}"]`)).toBeVisible();
    for (const ref of ["cable", "amplifier resistance", "amplifier cable"])
      await expect(page.locator(`#bench lesson-schematic .compact [data-ref="${ref}"]`)).toBeVisible();
    const volume = passage.locator("[data-ref='guitar volume']");
    await page.locator("#what-we-add").getByRole("button", {name: "volume control"}).click();
    await expect(volume).toHaveAttribute("data-lit");
    // It follows the bench as the fragment does.
    const wiper = await volume.locator(".wiper").getAttribute("d");
    await page.getByRole("slider", {name: /guitar volume/}).press("Home");
    await expect(volume.locator(".wiper")).not.toHaveAttribute("d", wiper ?? "");
  });
}

test("at 1440 the bench draws the guitar, and the passage does not draw it again", async ({page}) => {
  await openLesson(page, "01-the-wire");
  await expect(page.locator("#bench lesson-schematic .wide [data-ref=guitar]")).toBeVisible();
  await expect(page.locator("#what-we-add .schematic-drawing")).toBeHidden();
});
