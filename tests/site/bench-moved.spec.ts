import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("text about the bench says when the bench has left its start, and brings it back", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const notes = page.locator("bench-moved");
  await expect(notes).toHaveCount(3);
  for (const note of await notes.all()) await expect(note).toBeHidden();
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("100p");
  await entry.press("Enter");
  for (const note of await notes.all()) await expect(note).toBeVisible();
  await expect(page.locator("#see-it")).toContainText("The solid curve has come away from the dashed one");
  await page.locator("#see-it bench-moved").getByRole("button", {name: "Back to start"}).click();
  for (const note of await notes.all()) await expect(note).toBeHidden();
  await expect(page.locator("#see-it h2")).toBeFocused();
  await expect(entry).toHaveValue(/^33/);
  await expect(page.locator("#see-it")).toContainText("but for a hair");
});

test("a before that was kept anew is told of, where the text speaks of the one it was written for", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  await expect(page.locator("#hear-it")).toContainText("before, which is the wire of lesson 1, and now");
  await page.getByRole("button", {name: "Keep as before"}).click();
  await expect(page.locator("#hear-it")).toContainText("before, which is the bench that you kept, and now");
  await expect(page.locator("#see-it bench-moved")).toContainText("‘Before’ is another than this lesson starts with:");
  await expect(page.locator("#see-it")).toContainText("there is nothing between now and before");
});

test("with the volume all the way down nothing breaks, and it is called silent", async ({page}) => {
  await openLesson(page, "01-the-wire");
  await page.locator("bench-controls").getByRole("button", {name: "volume", exact: true}).click();
  await page.getByRole("slider", {name: /guitar volume/}).focus();
  await page.keyboard.press("Home");
  await expect(page.locator("#see-it")).toContainText("nothing comes through");
  await expect(page.locator("what-changed p")).toContainText("Nothing comes through any more. Now is silent.", {
    timeout: 30_000,
  });
  await expect(page.locator(".response-drawing.wide svg")).toContainText("now: silent");
  await expect(page.locator("main")).not.toContainText(/no lower limit|no limit|NaN/);
});
