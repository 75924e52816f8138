import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

/** Longer than a worker needs beside other work. */
const patient = {timeout: 60_000};

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const) {
  test(`at ${width} what changed takes the room of its words, and keeps it while the next are awaited`, async ({
    page,
  }) => {
    await page.setViewportSize({width, height});
    await openLesson(page, "06-leg-capacitor");
    const said = page.locator("what-changed p");
    const tall = async () => (await said.boundingBox())?.height ?? NaN;
    const lines = async () =>
      said.evaluate((element) => {
        const range = document.createRange();
        range.selectNodeContents(element);
        return range.getBoundingClientRect().height;
      });
    const served = await tall();
    // A line of its text at most is empty.
    expect(served - (await lines())).toBeLessThan(30);
    const heights = [served];
    const gain = page.getByRole("combobox", {name: "Other controls"});
    if (width < 480) await gain.selectOption("RV1");
    else await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
    await page.getByRole("slider", {name: /gain control$/}).press("Home");
    await expect(said).toContainText("Loudness follows.");
    heights.push(await tall());
    await expect(said).toContainText("The phrase is", patient);
    heights.push(await tall());
    await page.getByRole("slider", {name: /gain control$/}).press("End");
    await expect(said).toContainText("Loudness follows.");
    heights.push(await tall());
    expect(heights).toEqual(heights.toSorted((a, b) => a - b));
  });
}
