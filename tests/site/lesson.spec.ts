import {inputCornerHz} from "./input-corner.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

const hertz = (text: string) => {
  const [, digits = "", prefix = ""] = /([\d.]+)\s*(k?)Hz/.exec(text) ?? [];
  return Number(digits) * (prefix === "k" ? 1000 : 1);
};

/** Lowest point that the drawn curve of 'now' reaches at its left end, in pixels from the top of the drawing. */
const leftEnd = (d: string) => Number(/^M[\d.]+,([\d.]+)/.exec(d)?.[1]);

test("a smaller C1 moves the curve, the formula, the readings and the sentence", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const curve = page
    .locator(".response-drawing.wide svg path[stroke='var(--now)'], .response-drawing.wide g[stroke='var(--now)'] path")
    .first();
  const before = leftEnd((await curve.getAttribute("d")) ?? "");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("470p");
  await entry.press("Enter");
  const expected = inputCornerHz(470e-12);
  const formula = page.locator("#formula-inputCorner [data-reading=inputCorner]");
  await expect.poll(async () => hertz((await formula.textContent()) ?? "")).toBeGreaterThan(600);
  // Three significant figures are printed.
  expect(Math.abs(hertz((await formula.textContent()) ?? "") / expected - 1)).toBeLessThan(0.005);
  await expect.poll(async () => leftEnd((await curve.getAttribute("d")) ?? "")).toBeGreaterThan(before + 10);
  await expect(page.locator("what-changed p")).toContainText("C1");
  await expect(page.getByRole("slider", {name: /coupling capacitor/})).toHaveAttribute(
    "aria-valuetext",
    /470 picofarads, corner by the formula 671 hertz/,
  );
});

test("the decibel axis of lesson 6 holds while the gain is turned from stop to stop", async ({page}) => {
  await openLesson(page, "06-leg-capacitor");
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  const drawing = page.locator(".response-drawing.wide svg");
  const axis = await drawing.getAttribute("data-axis");
  expect(axis).toMatch(/ to \d+ by /);
  await page.getByRole("slider", {name: /gain control$/}).focus();
  for (const key of ["Home", "PageUp", "PageUp", "End"]) {
    const label = await drawing.getAttribute("aria-label");
    await page.keyboard.press(key);
    await expect(drawing).not.toHaveAttribute("aria-label", label ?? "");
    expect(await drawing.getAttribute("data-axis"), key).toBe(axis);
  }
});

test("a part named in the text is taken in hand and lights up in the drawing", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  await page.locator("#what-we-add").getByRole("button", {name: "R2"}).click();
  await expect(page.locator("#what-we-add").getByRole("button", {name: "R2"})).toHaveClass(/in-hand/);
  await expect(page.getByRole("slider", {name: /bias resistor/})).toBeVisible();
  await expect(page.locator("lesson-schematic svg").first().locator("[data-ref=R2]").first()).toHaveAttribute(
    "data-lit",
  );
});

test("paper and resistor symbol are a choice that is kept", async ({page}) => {
  await page.goto(`lessons/02-in-the-way/`);
  await page.getByText("Display", {exact: true}).click();
  await page.getByRole("radio", {name: "dark"}).check();
  await page.getByRole("radio", {name: /zigzag/}).check();
  await page.reload();
  await expect(page.locator("html")).toHaveAttribute("data-theme", "dark");
  await expect(page.locator("html")).toHaveAttribute("data-resistor", "zigzag");
});

test.describe("without a script", () => {
  test.use({javaScriptEnabled: false});
  test("prose, schematic and curve are on the page, with their numbers", async ({page}) => {
    await page.goto(`lessons/02-in-the-way/`);
    await expect(page.getByRole("heading", {level: 1})).toHaveText("A resistor and a capacitor in the way");
    await expect(page.locator("lesson-schematic svg").first()).toBeVisible();
    await expect(page.locator(".response-drawing.wide svg")).toBeVisible();
    const printed = (await page.locator("#remember live-reading").first().textContent()) ?? "";
    expect(Math.abs(hertz(printed) / inputCornerHz(33e-9) - 1)).toBeLessThan(0.005); // three figures are printed
    await expect(page.getByText("Sliders and sound need JavaScript.")).toBeVisible();
    await expect(page.getByRole("button", {name: "Check"})).toHaveCount(0);
  });
});

test("at 1180 by 800 the whole bench is in sight, and the player's second row is one row", async ({page}) => {
  await page.setViewportSize({width: 1180, height: 800});
  for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
    await openLesson(page, slug);
    const bench = page.locator("#bench");
    expect(await bench.evaluate(({scrollHeight, clientHeight}) => scrollHeight - clientHeight), slug).toBe(0);
    const [keep, own] = await Promise.all([".keep", ".own"].map((each) => bench.locator(each).boundingBox()));
    expect(Math.abs((keep?.y ?? 0) - (own?.y ?? NaN)), slug).toBeLessThan(12);
  }
});

test("a word is explained behind its paragraph, whose sentence stays whole", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const word = page.locator("explained-word a").first();
  const paragraph = page.locator("p", {has: word}).first();
  const before = await paragraph.innerText();
  await word.click();
  await expect(paragraph.locator("xpath=following-sibling::*[1]")).toHaveClass("word-meaning");
  expect(await paragraph.innerText()).toBe(before);
});

test("what is said of a bench that is kept is in sight in a low window, at the top of the page", async ({page}) => {
  await page.setViewportSize({width: 1180, height: 800});
  await openLesson(page, "10-two-diodes");
  await page.evaluate(() => scrollTo(0, 0));
  await page.getByRole("button", {name: "Keep as before"}).click();
  const said = page.locator("bench-player .said");
  await expect(said).toContainText("Kept:");
  await expect(said).toBeInViewport({ratio: 1});
});
