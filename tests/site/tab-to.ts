import type {Locator, Page} from "@playwright/test";

/** Presses Tab until `target` has the focus: what cannot be reached so fails, with its name. */
export async function tabTo(page: Page, target: Locator) {
  const name = target.toString();
  for (let presses = 0; presses < 150; presses++) {
    if (await target.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`150 presses of Tab did not reach ${name}`);
}
