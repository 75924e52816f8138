import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("nothing moves until there is a guess, and the guess is kept", async ({page}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await expect(page.locator(".bench .controls")).toHaveJSProperty("inert", true);
  // Kept as before, the curve that is kept back would be drawn; a picture of the sound and a sweep would show it as well.
  for (const waits of [".keep", ".watch", ".own"])
    await expect(page.locator(`.bench ${waits}`)).toHaveJSProperty("inert", true);
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(page.locator(".bench .said")).toHaveText("Now plays. What to compare it with comes after your guess.");
  await page.getByRole("button", {name: "Stop", exact: true}).click();
  await page.getByRole("radio", {name: /less than anyone can hear/}).check();
  await page.getByRole("button", {name: "Keep my guess"}).click();
  await expect(page.getByText("Your guess is kept, and it is what happens.")).toBeVisible();
  for (const free of [".controls", ".keep", ".watch", ".own"])
    await expect(page.locator(`.bench ${free}`)).toHaveJSProperty("inert", false);
  await page.reload();
  await expect(page.getByRole("radio", {name: /less than anyone can hear/})).toBeChecked();
});

for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
  test(`${slug} keeps back the curve of now while its guess is open, and moves nothing when it shows it`, async ({
    page,
  }) => {
    await openLesson(page, slug, {guess: "wait"});
    const drawing = page.locator(".response-drawing.wide, .response-drawing.middle").filter({visible: true});
    const now = drawing.locator("svg [stroke='var(--now)']").first();
    const places = () =>
      Promise.all(
        [".response", ".controls", ".player", "#guess-first h2"].map((each) => page.locator(each).boundingBox()),
      );
    await expect(drawing).toContainText("Now is drawn after your guess.");
    await expect(now).toBeHidden();
    await expect(page.getByRole("slider", {name: "Reading cursor on the curve"})).toBeHidden();
    // What a screen reader is told of the curve would answer as well.
    await expect(page.getByRole("img", {name: /^Frequency response/})).toHaveCount(0);
    const comparisonAnswers = slug < "03";
    await expect(page.locator(".bench .voices")).toHaveJSProperty("inert", comparisonAnswers);
    const before = await places();
    await page.getByRole("button", {name: "Go on without", exact: true}).click();
    await expect(now).toBeVisible();
    await expect(page.getByRole("img", {name: /^Frequency response/}).filter({visible: true})).toHaveCount(1);
    await expect(page.getByText("drawn after your guess").filter({visible: true})).toHaveCount(0);
    await expect(page.locator(".bench .voices")).toHaveJSProperty("inert", false);
    // The button that was pressed has gone; the keyboard goes on at the controls.
    await expect(page.locator(".bench .controls :focus")).toBeVisible();
    expect(await places()).toEqual(before);
  });
}

test("who comes by a link to a setting or to an exercise is not asked to guess first", async ({page}) => {
  for (const place of ["#C1=1n", "#exercise-2-1", "#before=1&exercise=2.2"]) {
    await page.goto("about:blank");
    await page.goto(`lessons/02-in-the-way/${place}`);
    await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
    await expect(page.getByText("The controls wait for your guess.")).toBeHidden();
    await expect(page.getByText("leads past this question, so its answer lies open")).toBeVisible();
    await expect(page.getByRole("button", {name: "Keep my guess"})).toBeHidden();
    await page.getByRole("link", {name: "Start there, and guess first"}).click();
    await expect(page.getByText("The controls wait for your guess.")).toBeVisible();
    await expect(page.getByText("leads past this question")).toBeHidden();
    await expect(page).toHaveURL(/02-in-the-way\/$/);
  }
  for (const place of ["", "#why", "#nonsense=1", "#C1=banana", "#before=99", "#exercise-10-1"]) {
    await page.goto("about:blank");
    await page.goto(`lessons/02-in-the-way/${place}`);
    await expect(page.locator("bench-controls")).toHaveAttribute("inert", "");
  }
  await page.getByRole("button", {name: "Go on without", exact: true}).click();
  await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
});
