import {heardStages} from "../../src/engine/course/heard-stages.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("every stage so far is heard in turn, as loud as the others, and before, now and wire come back", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await openLesson(page, "10-two-diodes");
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await page.getByText("Stages", {exact: true}).click();
  const stages = page.getByRole("group", {name: "Every stage so far"}).getByRole("radio");
  // The written and the unwritten, but lesson 3, which adds no sound.
  await expect(stages).toHaveCount(heardStages.filter((lesson) => lesson <= 10).length);
  await expect(page.getByText("Lesson 3 is left out: what it adds carries no sound.")).toBeVisible();
  const said = page.locator("bench-player .said");
  await page.getByRole("radio", {name: /^2\. A resistor/}).check();
  await expect(said).toHaveText(/^Lesson 2 is (played .* quieter|the quietest) here/, {timeout: 60_000});
  await expect(page.getByRole("radio", {name: "now", exact: true})).not.toBeChecked();
  await page.keyboard.press("ArrowDown");
  await expect(page.getByRole("radio", {name: /^4\. The op-amp/})).toBeChecked();
  await expect(said).toHaveText(/^Lesson 4 is (played .* quieter|the quietest) here/, {timeout: 60_000});
  await page.getByRole("radio", {name: /^9\. A small/}).check();
  await expect(said).toHaveText(/^Lesson 9 is played .* quieter here/, {timeout: 60_000});
  await page.getByRole("radio", {name: "wire", exact: true}).check();
  await expect(said).toHaveText(/^The wire is/, {timeout: 60_000});
  await expect(page.getByRole("radio", {name: /^9\. A small/})).not.toBeChecked();
});

test("the first lesson is its own and only stage, so there is no list", async ({page}) => {
  await openLesson(page, "01-the-wire");
  await expect(page.getByText("Stages", {exact: true})).toHaveCount(0);
});
