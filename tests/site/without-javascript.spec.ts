import {atRoot, routesOf} from "./routes.ts";
import {expect, test} from "./site.ts";

test.use({javaScriptEnabled: false});

for (const route of routesOf(atRoot)) {
  test(`/${route} reads without JavaScript`, async ({page}) => {
    await page.goto(route);
    await expect(page.locator("h1")).toBeVisible();
    const words = (await page.locator("main").innerText()).split(/\s+/);
    expect(words.length).toBeGreaterThan(40);
    if (!/^lessons\/./.test(route)) return;
    expect(words.length).toBeGreaterThan(500);
    for (const name of ["schematic", "response"]) {
      const drawing = page.locator(`main svg:visible`).and(page.locator(`[class*=${name}] svg, svg[class*=${name}]`));
      await expect(drawing.first(), `the ${name} is drawn`).toBeVisible();
    }
  });
}
