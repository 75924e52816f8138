import AxeBuilder from "@axe-core/playwright";
import type {Page} from "@playwright/test";
import {atRoot, routesOf, underClass} from "./routes.ts";
import {expect, test} from "./site.ts";

const routes = routesOf(atRoot);
// 320 is what a window of 1280 leaves at 400 % (WCAG 2.2, 1.4.10).
const widths = [320, 390, 820, 1440];

/** Where a lesson waits for a guess: shows the rest of it, too. @returns whether it waited */
async function readOn(page: Page): Promise<boolean> {
  const button = page.getByRole("button", {name: "Read on without guessing"});
  const waits = (await button.count()) > 0 && (await button.isVisible());
  if (waits) await button.click();
  return waits;
}

for (const route of routes) {
  test(`/${route} answers, names itself, and never scrolls sideways`, async ({page}) => {
    for (const width of widths) {
      await page.setViewportSize({width, height: 844});
      const answer = await page.goto(route);
      expect(answer?.status()).toBe(200);
      await expect(page.locator("h1")).toHaveCount(1);
      await expect(page).toHaveTitle(/\S{2,}/);
      await expect(page.locator("html")).toHaveAttribute("lang", "en");
      await page.waitForLoadState("networkidle");
      await readOn(page);
      const beyond = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(beyond, `pixels beyond the right edge at ${width}`).toBeLessThanOrEqual(0);
    }
  });

  for (const colorScheme of ["light", "dark"] as const) {
    test(`/${route} has nothing that axe objects to, ${colorScheme}`, async ({page}) => {
      await page.emulateMedia({colorScheme, reducedMotion: "reduce"});
      await page.goto(route);
      await page.waitForLoadState("networkidle");
      do {
        const {violations, passes} = await new AxeBuilder({page}).analyze();
        expect(passes.length).toBeGreaterThan(5);
        const said = violations.map(({id, nodes}) => `${id}: ${nodes.map(({target}) => target.join(" ")).join(", ")}`);
        expect(said).toEqual([]);
      } while (await readOn(page));
    });
  }
}

test("the site under /class/ has the same pages, and they work", async ({page, served}) => {
  test.setTimeout(900_000);
  expect(routesOf(underClass)).toEqual(routes);
  for (const route of routes) {
    const answer = await page.goto(new URL(route, served.underClass).href);
    expect(answer?.status(), route).toBe(200);
    await page.waitForLoadState("networkidle");
    await expect(page.locator("h1")).toHaveCount(1);
  }
});
