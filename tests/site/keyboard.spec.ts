import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";
import {tabTo} from "./tab-to.ts";

test("a lesson is worked from guess to answer without a pointer", async ({page}) => {
  test.slow();
  const press = (key: string) => page.keyboard.press(key);
  await openLesson(page, "02-in-the-way", {guess: "wait"});

  await tabTo(page, page.getByRole("radio", {name: /more than half/}));
  await press("ArrowDown");
  await tabTo(page, page.getByRole("button", {name: "Keep my guess"}));
  await press("Enter");
  await expect(page.locator(".bench .controls")).toHaveJSProperty("inert", false);

  const meaning = page.locator("#what-we-add explained-word a").first();
  await tabTo(page, meaning);
  await press("Enter");
  await expect(meaning).toHaveAttribute("aria-expanded", "true");

  const part = page.locator(".schematic-drawing.wide .grip[tabindex='0']");
  await tabTo(page, part);
  await press("Home");
  await press("Enter");
  await expect(page.locator(".schematic-drawing.wide .grip[aria-pressed='true']")).toHaveCount(1);

  const cursor = page.getByRole("slider", {name: "Reading cursor on the curve"});
  await tabTo(page, cursor);
  await press("ArrowRight");
  await expect(cursor).toHaveAttribute("aria-valuetext", /^1\.2[0-9]\s?kHz/);

  await tabTo(page, page.getByRole("button", {name: "C1", exact: true}).last());
  await press("Enter");
  const slider = page.getByRole("slider", {name: /coupling capacitor/});
  await tabTo(page, slider);
  await press("Home");
  await expect(slider).toHaveAttribute("aria-valuetext", /^100 picofarads, corner/);

  await tabTo(page, page.getByRole("button", {name: "Play"}));
  await press("Enter");
  await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
  await tabTo(page, page.getByRole("radio", {name: "now", exact: true}));
  await press("ArrowRight");
  await expect(page.getByRole("radio", {name: "wire"})).toBeChecked();
  const same = page.getByRole("switch", {name: "same loudness"});
  await tabTo(page, same);
  await press("Space");
  await expect(same).toHaveAttribute("aria-checked", "false");
  await tabTo(page, page.getByRole("button", {name: "Keep as before"}));
  await press("Enter");
  await expect(page.locator("bench-player .said")).toContainText("Kept");

  // Round the page once more: the answers stand in the text, before the bench.
  const answer = page.locator("form:has(button:text('Check')) input, .exercise input[type=text]").first();
  await tabTo(page, answer);
  await page.keyboard.type("nonsense");
  await press("Enter");
  await expect(page.locator(".exercise").first()).toContainText(/nonsense/);
});
