import type {Page} from "@playwright/test";

/** Opens a lesson; its guess is passed over, unless `guess` is "wait". */
export async function openLesson(page: Page, slug: string, {guess = "pass"}: {guess?: "pass" | "wait"} = {}) {
  await page.goto(`lessons/${slug}/`);
  if (guess === "pass") await page.getByRole("button", {name: "Carry on without one"}).click();
}
