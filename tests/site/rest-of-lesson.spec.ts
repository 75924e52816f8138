import {openLesson} from "./open-lesson.ts";
import {expect, forgiveTheLine, test} from "./site.ts";
import {tabTo} from "./tab-to.ts";

const rest = "#guess-first ~ section";
const line = "The rest of the lesson would give the answer away.";

test("what would answer an open guess is folded away, and a press reads on without guessing, by keyboard alone", async ({
  page,
}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await expect(page.getByText("If you hear no difference, you have heard right")).toBeHidden();
  await expect(page.getByText(line)).toBeVisible();
  const readOn = page.getByRole("button", {name: "Read on without guessing"});
  await tabTo(page, readOn);
  await page.keyboard.press("Enter");
  await expect(page.locator("#hear-it h2")).toBeFocused();
  for (const section of await page.locator(rest).all()) await expect(section).toBeVisible();
  await expect(page.getByText(line)).toBeHidden();
  await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
});

for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
  test(`at 1440 by 900 the guess of ${slug} and its bench are met in the first screen`, async ({page}) => {
    await openLesson(page, slug, {guess: "wait"});
    const guess = page.locator("guess-first");
    for (const part of [guess.locator("legend"), ...(await guess.locator("label").all())])
      await expect(part).toBeInViewport({ratio: 1});
    await expect(guess.getByRole("button", {name: "Keep my guess"})).toBeInViewport({ratio: 1});
    await expect(page.getByText("The controls wait for your guess.")).toBeInViewport({ratio: 1});
  });
}

test("a guess opens what follows it, and once kept it opens it at load, with nothing moved", async ({
  page,
  complaints,
}) => {
  // Letters that come late may break a line elsewhere; that is not what this looks at.
  await page.route("**/*.woff2", (route) => route.abort());
  await openLesson(page, "10-two-diodes", {guess: "wait"});
  await expect(page.locator("#remember")).toBeHidden();
  await page.locator("guess-first input").first().check();
  await page.getByRole("button", {name: "Keep my guess"}).click();
  await expect(page.locator("#remember")).toBeVisible();
  await page.addInitScript(() => {
    type Shift = PerformanceEntry & {sources: readonly {previousRect: DOMRect; currentRect: DOMRect}[]};
    const moved: string[] = [];
    Object.assign(globalThis, {moved});
    new PerformanceObserver((list) => {
      for (const {sources} of list.getEntries() as Shift[])
        for (const {previousRect: from, currentRect: to} of sources)
          if (from.top !== to.top || from.height !== to.height) moved.push(`${from.top} to ${to.top}`);
    }).observe({type: "layout-shift", buffered: true});
  });
  await page.reload();
  await page.waitForLoadState("networkidle");
  await expect(page.locator("#remember")).toBeVisible();
  expect(await page.evaluate(() => (globalThis as unknown as {moved: string[]}).moved)).toEqual([]);
  forgiveTheLine(complaints);
});

test("an address that leads into it opens it, at load and later, and the guess stays open", async ({page}) => {
  for (const place of ["why", "formula-inputCorner"]) {
    await page.goto("about:blank");
    await page.goto(`lessons/02-in-the-way/#${place}`);
    await expect(page.locator(`#${place}`)).toBeInViewport();
    await expect(page.locator("bench-controls")).toHaveAttribute("inert", "");
  }
  await page.goto("about:blank");
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await expect(page.locator("#exercises")).toBeHidden();
  await page.locator(".rest-waits").getByRole("link", {name: "exercises"}).click();
  await expect(page.locator("#exercises h2")).toBeInViewport();
  await expect(page.getByText(line)).toBeHidden();
});

test("a search in the page opens it", async ({page}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  const turn = page.locator("#turn-it");
  // What a browser shows by its own search, it may keep back so long: no script can search, so its event is sent.
  await expect(turn).toHaveAttribute("hidden", "until-found");
  await turn.evaluate((section) => section.dispatchEvent(new Event("beforematch", {bubbles: true})));
  await expect(turn).toBeVisible();
  await expect(page.locator("#remember")).toBeVisible();
});

test("on paper nothing waits", async ({page}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await page.emulateMedia({media: "print"});
  for (const section of await page.locator(rest).all()) await expect(section.locator("h2")).toBeVisible();
  await expect(page.getByText(line)).toBeHidden();
  await expect(page.getByText("If you hear no difference, you have heard right")).toBeVisible();
});

test.describe("without a script", () => {
  test.use({javaScriptEnabled: false});
  test("nothing waits", async ({page}) => {
    await page.goto("lessons/02-in-the-way/");
    for (const section of await page.locator(rest).all()) await expect(section).toBeVisible();
    await expect(page.getByText(line)).toBeHidden();
  });
});
