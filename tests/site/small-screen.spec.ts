import type {Locator} from "@playwright/test";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("on a phone the small curve says which line is now and which is before, and covers no letter with it", async ({
  page,
}) => {
  await openLesson(page, "06-leg-capacitor");
  for (const width of [320, 360, 390]) {
    await page.setViewportSize({width, height: 844});
    const chart = page.locator(".response-drawing.compact");
    const words = [chart.locator(".key-now"), chart.locator(".key-before")];
    for (const word of words) await expect(word).toBeVisible();
    const letters = await chart.locator("svg text").evaluateAll((texts) =>
      texts.map((text) => {
        const {left, right, top, bottom} = text.getBoundingClientRect();
        return {left, right, top, bottom};
      }),
    );
    for (const word of words) {
      const box = await word.boundingBox();
      if (!box) throw new Error("a word of the key is not drawn");
      const met = letters.filter(
        ({left, right, top, bottom}) =>
          left < box.x + box.width && right > box.x && top < box.y + box.height && bottom > box.y,
      );
      expect(met, `${await word.textContent()} at ${width}`).toEqual([]);
    }
  }
});

const height = async (...each: readonly Locator[]) => {
  const boxes = await Promise.all(each.map((one) => one.boundingBox()));
  return boxes.reduce((sum, box) => sum + (box?.height ?? NaN), 0);
};

for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
  test(`${slug} on a phone: what is pinned takes less than half of the screen, and least while nothing of it is used`, async ({
    page,
  }) => {
    await page.setViewportSize({width: 390, height: 844});
    await openLesson(page, slug, {guess: "wait"});
    const pinned = [page.locator(".bench-view"), page.locator(".bench-tray")] as const;
    await expect(page.getByText("The controls wait for your guess.")).toBeVisible();
    const waiting = await height(...pinned);
    // design.md: 42 per cent at most.
    expect(waiting / 844).toBeLessThan(0.42);
    await page.getByRole("button", {name: "Carry on without one"}).click();
    await expect(page.locator("bench-controls")).toBeVisible();
    const unplayed = await height(...pinned);
    expect(unplayed / 844).toBeLessThan(0.46);
    await expect(page.getByRole("slider", {name: "Volume", exact: true})).toBeHidden();
    // A press of play does not move what is being read.
    await page.getByRole("button", {name: "Play"}).click();
    await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
    await expect(page.locator("bench-player .said")).not.toHaveText(/^Start low/);
    expect(await height(...pinned)).toBe(unplayed);
    await page.getByRole("button", {name: "More controls of the sound"}).click();
    await expect(page.getByRole("slider", {name: "Volume", exact: true})).toBeVisible();
    await expect(page.getByRole("button", {name: "Keep as before"})).toBeVisible();
    await expect(page.getByRole("button", {name: "Copy link to this bench"})).toBeInViewport({ratio: 1});
    expect(await height(...pinned)).toBeGreaterThan(unplayed);
  });
}

for (const [width, tall] of [
  [390, 844],
  [820, 1180],
] as const) {
  test(`at ${width} In and out covers neither curve nor slider, scrolls within itself, and is closed by its name and by Escape`, async ({
    page,
  }) => {
    await page.setViewportSize({width, height: tall});
    await openLesson(page, "06-leg-capacitor");
    await page.getByRole("button", {name: "More controls of the sound"}).click();
    await expect(page.getByRole("slider", {name: "Volume", exact: true})).toBeFocused();
    const fold = page.locator("bench-player .own");
    const name = fold.locator("> summary");
    await name.click();
    await expect(fold.getByLabel("Phrase")).toBeVisible();
    const top = async () => (await fold.boundingBox())?.y ?? NaN;
    const bottom = async (part: Locator) => {
      const box = await part.boundingBox();
      return (box?.y ?? NaN) + (box?.height ?? NaN);
    };
    expect(await top()).toBeGreaterThanOrEqual(await bottom(page.locator(".bench-view")));
    const slider = await page.locator("bench-controls .panel:visible input[type=range]:visible").first().boundingBox();
    expect(await bottom(fold)).toBeLessThanOrEqual(slider?.y ?? NaN);
    await expect(page.getByRole("button", {name: "Play"})).toBeInViewport({ratio: 1});
    const room = await fold.evaluate((element) => element.scrollHeight - element.clientHeight);
    expect(room).toBeGreaterThan(0);
    // At the end of what it holds, its name and the way to close it are still in sight.
    await fold.getByRole("button", {name: "Save", exact: true}).focus();
    expect(Math.abs(((await name.boundingBox())?.y ?? NaN) - (await top()))).toBeLessThan(3);
    await page.keyboard.press("Escape");
    await expect(fold).not.toHaveAttribute("open");
    await expect(name).toBeFocused();
    await name.press("Enter");
    await expect(fold).toHaveAttribute("open");
    await name.click();
    await expect(fold).not.toHaveAttribute("open");
  });
}

test("on a phone one panel of the player is unfolded at a time, and one Escape puts it away", async ({page}) => {
  await page.setViewportSize({width: 390, height: 844});
  await openLesson(page, "10-two-diodes");
  await page.getByRole("button", {name: "More controls of the sound"}).click();
  const open = page.locator("bench-player > * > details[open]");
  await page.getByText("Watch", {exact: true}).click();
  await expect(open).toHaveClass("watch");
  // Of three words on an axis none runs into the next.
  await expect(page.locator(".spectrum .mark-x")).toHaveCount(3);
  const boxes = await Promise.all((await page.locator(".spectrum .mark-x").all()).map((mark) => mark.boundingBox()));
  for (let k = 1; k < boxes.length; k++) {
    const [before, here] = [boxes[k - 1], boxes[k]];
    expect((here?.x ?? NaN) - (before?.x ?? NaN) - (before?.width ?? NaN)).toBeGreaterThan(3);
  }
  await page.locator(".own > summary").click({position: {x: 10, y: 10}});
  await expect(open).toHaveCount(1);
  await expect(open).toHaveClass("own");
  await page.keyboard.press("Escape");
  await expect(open).toHaveCount(0);
  await expect(page.getByText("Watch", {exact: true})).toBeVisible();
});

test("on a tablet what the player says stands on one line with the buttons beside it", async ({page}) => {
  await page.setViewportSize({width: 820, height: 1180});
  await openLesson(page, "10-two-diodes");
  const lines = await page.locator(".said-row").evaluate((row) =>
    [".said", "copy-link button", ".more-of-player", ".put-away"].map((each) => {
      const range = document.createRange();
      range.selectNodeContents(row.querySelector(each) ?? row);
      const {top, bottom} = range.getBoundingClientRect();
      return (top + bottom) / 2;
    }),
  );
  expect(Math.max(...lines) - Math.min(...lines)).toBeLessThan(3);
});

test("the loudspeaker's curve shows its last word whole", async ({page}) => {
  await page.setViewportSize({width: 1440, height: 900});
  await openLesson(page, "06-leg-capacitor");
  await page.getByText("In and out").click();
  const curve = page.locator(".loudspeaker-curve");
  const [box, word] = await Promise.all([curve.boundingBox(), curve.locator("text").last().boundingBox()]);
  expect((word?.x ?? NaN) + (word?.width ?? NaN)).toBeLessThanOrEqual((box?.x ?? NaN) + (box?.width ?? NaN));
});

test("on a small screen, where a list names the control, its slider and its entry have names of their own", async ({
  page,
}) => {
  await page.setViewportSize({width: 390, height: 844});
  await openLesson(page, "06-leg-capacitor");
  const list = page.getByRole("combobox", {name: "Other controls"});
  await list.selectOption("C3");
  await expect(page.getByRole("slider", {name: /leg capacitor/})).toBeVisible();
  await list.selectOption("RV1");
  await expect(page.getByRole("slider", {name: /gain control$/})).toBeVisible();
  await expect(page.getByRole("textbox", {name: "RV1: type a rotation"})).toBeVisible();
});

test("on a small screen a link to an exercise shows its question below the pinned bench", async ({page}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("lessons/06-leg-capacitor/#exercise-6-3");
  await expect
    .poll(async () => {
      const [pinned, question] = await Promise.all([
        page.locator("bench-frame").boundingBox(),
        page.locator("#exercise-6-3").boundingBox(),
      ]);
      return (question?.y ?? NaN) - ((pinned?.y ?? NaN) + (pinned?.height ?? NaN));
    })
    .toBeGreaterThanOrEqual(0);
});

test("on a small screen what is said of an answer, and an opened hint, show above the pinned player", async ({
  page,
}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("lessons/10-two-diodes/#exercise-10-3");
  const exercise = page.locator("#exercise-10-3");
  const [feedback, hint, tray] = [
    exercise.locator(".feedback"),
    exercise.locator("details").first(),
    page.locator(".bench-tray"),
  ];
  const room = async (shown: typeof feedback) => {
    const [above, below] = await Promise.all([shown.boundingBox(), tray.boundingBox()]);
    return (below?.y ?? NaN) - (above?.y ?? NaN) - (above?.height ?? NaN);
  };
  await exercise.getByLabel("Your answer").fill("5 dB");
  await exercise.getByLabel("Your answer").press("Enter");
  await expect(feedback).toContainText("Not yet.");
  await expect.poll(() => room(feedback)).toBeGreaterThanOrEqual(0);
  await hint.locator("summary").click();
  await expect(hint).toHaveAttribute("open", "");
  await expect.poll(() => room(hint)).toBeGreaterThanOrEqual(0);
});
