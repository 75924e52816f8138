import {gzipSync} from "node:zlib";
import budgets from "./budgets.json" with {type: "json"};
import {atRoot, routesOf} from "./routes.ts";
import {expect, test} from "./site.ts";

const kilobytes = (bytes: number) => bytes / 1000;

for (const route of routesOf(atRoot).filter((each) => each === "" || /^lessons\/./.test(each))) {
  test(`/${route} weighs no more than its budgets before any touch`, async ({page}) => {
    const weights = {page: 0, script: 0, font: 0};
    const sent: Promise<void>[] = [];
    page.on("response", (response) => {
      const kind = response.request().resourceType();
      const weigh = async () => {
        const body = await response.body();
        if (kind === "font") weights.font += body.length;
        else weights.page += gzipSync(body).length;
        if (kind === "script") weights.script += gzipSync(body).length;
      };
      sent.push(weigh());
    });
    await page.goto(route);
    await page.waitForLoadState("networkidle");
    await Promise.all(sent);
    test.info().annotations.push({type: "kilobytes", description: JSON.stringify(weights)});
    // A page that sent no script or font would pass unseen.
    expect(Math.min(weights.script, weights.font)).toBeGreaterThan(0);
    expect.soft(kilobytes(weights.page), budgets.lessonKilobytes.of).toBeLessThanOrEqual(budgets.lessonKilobytes.limit);
    expect
      .soft(kilobytes(weights.script), budgets.scriptKilobytes.of)
      .toBeLessThanOrEqual(budgets.scriptKilobytes.limit);
    expect.soft(kilobytes(weights.font), budgets.fontKilobytes.of).toBeLessThanOrEqual(budgets.fontKilobytes.limit);
  });
}
