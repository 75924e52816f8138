import {openLesson} from "./open-lesson.ts";
import {expect, forgiveTheLine, test} from "./site.ts";

test("guess, answers and their verdicts are there again after a reload, and can be cleared and brought back", async ({
  page,
}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await page.getByRole("radio", {name: /more than half/}).check();
  await page.getByRole("button", {name: "Keep my guess"}).click();
  const [first, second] = [page.locator("#exercise-2-1"), page.locator("#exercise-2-2")];
  const answer = first.getByLabel("Your answer");
  const feedback = first.locator(".feedback");
  // A formula is worked out by a reader that the page has to fetch anew.
  await answer.fill("1/(2*pi*(4.7k+500k)*5.1n) Hz");
  await first.getByRole("button", {name: "Check"}).click();
  await expect(feedback).toContainText("Right.");
  await second.getByLabel("Your answer").fill("nonsense");
  await second.getByRole("button", {name: "Check"}).click();
  const tries = () =>
    page.evaluate(
      () => JSON.parse(localStorage.getItem("part-by-part.notebook") ?? "null").answers["2.1"].tries as number,
    );

  await page.reload();
  await expect(page.getByText("Your guess is kept. Something else happens.")).toBeVisible();
  await expect(answer).toHaveValue("1/(2*pi*(4.7k+500k)*5.1n) Hz");
  await expect(feedback).toContainText("Right.");
  await expect(feedback).toContainText("Counted right:");
  await expect(second.locator(".feedback")).toContainText("“nonsense”");
  // Marked again, and counted once.
  expect(await tries()).toBe(1);

  const kept = page.locator("kept-here");
  await expect(kept).toContainText("saved in this browser only");
  await kept.getByRole("button", {name: "Clear those of this lesson"}).click();
  await expect(answer).toHaveValue("");
  await expect(feedback).toBeEmpty();
  await expect(page.locator("bench-controls")).toHaveJSProperty("inert", true);
  await expect(page.getByRole("radio", {name: /more than half/})).toBeEnabled();
  // The guess that is asked again stands far above: a link leads to it.
  await expect(page.locator("#guess-first")).not.toBeInViewport();
  await kept.getByRole("link", {name: "To the guess"}).click();
  await expect(page.getByRole("button", {name: "Keep my guess"})).toBeInViewport();
  await kept.getByRole("button", {name: "Bring them back"}).click();
  await expect(feedback).toContainText("Right.");
  await expect(page.locator("bench-controls")).toHaveJSProperty("inert", false);
  await expect(kept.getByRole("link", {name: "To the guess"})).toBeHidden();
  await kept.getByRole("button", {name: "Clear those of this lesson"}).click();
  await page.reload();
  await expect(answer).toHaveValue("");
  await expect(page.getByText("The controls wait for your guess.")).toBeVisible();
});

test("an answer is kept before it is marked, for a line that is down and a page that is left", async ({
  page,
  complaints,
}) => {
  let down = true;
  await page.route(/\/mark-entry\.[^/]*\.js$/, (route) => (down ? route.abort() : route.continue()));
  await openLesson(page, "02-in-the-way");
  const exercise = page.locator("#exercise-2-1");
  await exercise.getByLabel("Your answer").fill("nonsense");
  await exercise.getByRole("button", {name: "Check"}).click();
  const feedback = exercise.locator(".feedback");
  await expect(feedback).toContainText("Press Check again: this answer is kept.");
  down = false;
  await exercise.getByRole("button", {name: "Check"}).click();
  await expect(feedback).toContainText("“nonsense”");
  await page.reload();
  await expect(exercise.getByLabel("Your answer")).toHaveValue("nonsense");
  await expect(feedback).toContainText("“nonsense”");
  forgiveTheLine(complaints);
});

test("a choice is marked again after a reload", async ({page}) => {
  await openLesson(page, "01-the-wire");
  const choice = page.locator("lesson-exercise", {has: page.locator("fieldset")}).first();
  await choice.getByRole("radio").first().check();
  await choice.getByRole("button", {name: "Check"}).click();
  const said = await choice.locator(".feedback").innerText();
  expect(said).not.toBe("");
  await page.reload();
  await expect(choice.getByRole("radio").first()).toBeChecked();
  await expect(choice.locator(".feedback")).toHaveText(said);
});

test("where a browser keeps nothing, the page says so", async ({page}) => {
  await page.addInitScript(() => {
    Storage.prototype.setItem = () => {
      throw new Error("storage is refused");
    };
  });
  await openLesson(page, "02-in-the-way");
  await expect(page.locator("kept-here")).toContainText("This browser keeps nothing");
});
