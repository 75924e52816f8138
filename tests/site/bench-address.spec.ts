import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("a link brings the bench back, and what cannot be read is told", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await expect.poll(() => page.url()).toContain("#C1=1n");
  const url = page.url();
  await page.goto("about:blank");
  await page.goto(`${url}&nonsense=7&R2=blue`);
  await expect(page.getByRole("textbox", {name: "C1: type a value"})).toHaveValue("1\u00a0nF");
  const notice = page.locator("bench-address p");
  await expect(notice).toContainText("“nonsense=7”, “R2=blue”");
  await expect(notice).toBeInViewport({ratio: 1});
  await notice.getByRole("button", {name: "Close"}).click();
  await expect(notice).toBeHidden();
});

test("a link with a value between two stops says which stands for it", async ({page}) => {
  await page.goto("lessons/02-in-the-way/#C1=5.1n");
  await expect(page.getByRole("textbox", {name: "C1: type a value"})).toHaveValue("4.7\u00a0nF");
  await expect(page.locator("bench-address p")).toContainText(
    "C1 at 5.1\u00a0nF is asked for; the nearest that can be bought here is 4.7\u00a0nF.",
  );
});

for (const width of [1440, 1180, 820, 390]) {
  test(`at ${width} a link to the bench as it stands is copied`, async ({page, context}) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.setViewportSize({width, height: 844});
    await openLesson(page, "02-in-the-way");
    const entry = page.getByRole("textbox", {name: "C1: type a value"});
    await entry.fill("1n");
    await entry.press("Enter");
    await expect(entry).toHaveValue("1\u00a0nF");
    // In sight where there is room for it, else after 'More'.
    if (width < 480) await page.getByRole("button", {name: "More controls of the sound"}).click();
    await page.getByRole("button", {name: "Copy link to this bench"}).click();
    await expect(page.locator("bench-player .said")).toHaveText(
      "Copied. Whoever opens it finds the bench as it stands now.",
    );
    expect(await page.evaluate(() => navigator.clipboard.readText())).toMatch(/\/lessons\/02-in-the-way\/#C1=1n$/);
  });
}

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const) {
  test(`at ${width} one link holds the bench and an exercise: opened, it sets the one and shows the other`, async ({
    page,
    context,
  }) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await openLesson(page, "02-in-the-way");
    const entry = page.getByRole("textbox", {name: "C1: type a value"});
    await entry.fill("1n");
    await entry.press("Enter");
    await expect(entry).toHaveValue("1\u00a0nF");
    await page.getByRole("button", {name: "Copy a link to 2.2 and this bench"}).click();
    await expect(page.locator("#exercise-2-2 .told")).toContainText(
      "finds exercise 2.2 and the bench as it stands now",
    );
    const link = await page.evaluate(() => navigator.clipboard.readText());
    expect(link).toMatch(/#C1=1n&exercise=2\.2$/);
    await page.setViewportSize({width, height});
    await page.evaluate(() => localStorage.clear());
    await page.goto("about:blank");
    await page.goto(link);
    await expect(entry).toHaveValue("1\u00a0nF");
    await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
    await expect(page.locator("#exercise-2-2 h3")).toBeFocused();
    const [pinned, question] = [page.locator(".bench-view"), page.locator("#exercise-2-2 h3")];
    await expect
      .poll(async () => {
        const [bench, heading] = await Promise.all([pinned.boundingBox(), question.boundingBox()]);
        const covered = width < 1100 ? (bench?.y ?? NaN) + (bench?.height ?? NaN) : 0;
        return (heading?.y ?? NaN) >= covered && (heading?.y ?? NaN) < height / 2;
      })
      .toBe(true);
    await expect(page.locator("bench-address p")).toBeHidden();
  });
}

test("the address goes on naming the exercise it led to when a control moves", async ({page}) => {
  await page.goto("lessons/02-in-the-way/#exercise-2-2");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await expect(page).toHaveURL(/#C1=1n&exercise=2\.2$/);
});

test("going to a place on the page keeps the bench in the address", async ({page}) => {
  await page.goto("lessons/02-in-the-way/#C1=1n");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await expect(entry).toHaveValue("1\u00a0nF");
  await page.evaluate(() => (location.hash = "exercise-2-2"));
  await expect(page).toHaveURL(/#C1=1n&exercise=2\.2$/);
  await page.reload();
  await expect(entry).toHaveValue("1\u00a0nF");
});
