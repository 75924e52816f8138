import {expect, test} from "./site.ts";

/** Names of the script files a page has asked for, without what tells their versions apart. */
const named = (addresses: readonly string[]) => addresses.map((each) => /([^/.]+)[^/]*\.js$/.exec(each)?.[1] ?? each);

test("a lesson comes alive with a handful of script files, and a touch asks for few more", async ({page}) => {
  const asked: string[] = [];
  page.on("request", (request) => request.resourceType() === "script" && asked.push(request.url()));
  await page.goto("lessons/10-two-diodes/");
  await page.waitForLoadState("networkidle");
  expect(named(asked)).toEqual(expect.arrayContaining(["page", "bench", "lesson"]));
  expect(asked.length).toBeLessThanOrEqual(6);
  await page.getByRole("slider").first().press("ArrowUp");
  await page.waitForLoadState("networkidle");
  expect(asked.length).toBeLessThanOrEqual(20);
});

test("the front page runs nothing that is for lessons, however much it is played with", async ({page}) => {
  const asked: string[] = [];
  page.on("request", (request) => request.resourceType() === "script" && asked.push(request.url()));
  await page.goto("");
  await page.getByRole("slider").first().press("ArrowUp");
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await page.getByRole("button", {name: "Stop", exact: true}).waitFor();
  await page.waitForLoadState("networkidle");
  expect(named(asked)).toContain("works");
  expect(named(asked)).not.toContain("lesson");
});
