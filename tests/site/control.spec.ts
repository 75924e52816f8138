import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("typed values snap to what can be bought, and bad text is kept with a sentence", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("0,05 µF");
  await entry.press("Enter");
  await expect(entry).toHaveValue("47\u00a0nF");
  await expect(page.locator("#control-C1-note")).toContainText("The nearest that can be bought here is 47");
  await entry.fill("lots");
  await entry.press("Enter");
  await expect(entry).toHaveValue("lots");
  await expect(page.locator("#control-C1-note")).toHaveText(
    "I can't read a number in “lots”. Write a capacitance, such as 68 nF or 0.068 µF. Until then it stays at 47\u00a0nF.",
  );
  await entry.press("Escape");
  await expect(entry).toHaveValue("47\u00a0nF");
});

test("a rotation is typed as a share, a percentage or a resistance, and where it was before is marked", async ({
  page,
}) => {
  await openLesson(page, "06-leg-capacitor");
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  const entry = page.getByRole("textbox", {name: "RV1: type a rotation"});
  const note = page.locator("#control-RV1-note");
  const type = async (text: string) => {
    await entry.fill(text);
    await entry.press("Enter");
  };
  await type("0.35");
  await expect(entry).toHaveValue("35\u00a0%");
  await expect(note).toHaveText("I read this as 35\u00a0% of the turn.");
  await expect(page.locator("[data-control=RV1] .was-text")).toHaveText("was 9\u00a0%");
  await type("47k");
  await expect(entry).toHaveValue("14\u00a0%");
  await expect(page.getByRole("slider", {name: /gain control$/})).toHaveAttribute("aria-valuetext", /^14\u00a0%/);
  await type("blue");
  await expect(entry).toHaveValue("blue");
  await expect(note).toContainText("I can't read a rotation in “blue”.");
  await expect(page.getByRole("slider", {name: /gain control$/})).toHaveAttribute("aria-valuetext", /^14\u00a0%/);
});

test("the words on where a control was stand under their mark", async ({page}) => {
  await page.goto("lessons/01-the-wire/#before.cable=8");
  const cable = page.locator("[data-control=cable]");
  await expect(cable.locator(".was-text")).toHaveText("was 8\u00a0m");
  const [words, mark] = await Promise.all([
    cable.locator(".was-text").boundingBox(),
    cable.locator(".ticks .was").boundingBox(),
  ]);
  expect(Math.abs((words?.x ?? NaN) + (words?.width ?? NaN) / 2 - (mark?.x ?? NaN))).toBeLessThan(3);
});

test("what stands in no 'before' says so, and a switch shows where it was", async ({page}) => {
  await openLesson(page, "10-two-diodes");
  const panel = page.locator("[data-control=diodesFitted]");
  await expect(panel.locator(".was-text")).toHaveText("before has no D1 or D2");
  await page.getByRole("button", {name: "Keep as before"}).click();
  await expect(panel.locator(".was-text")).toHaveText("");
  await page.locator("bench-controls").getByRole("combobox", {name: "Other controls"}).selectOption("C4Fitted");
  await page.getByRole("switch", {name: /top-cut capacitor in or out/}).click();
  await expect(page.locator("[data-control=C4Fitted] .was-text")).toHaveText("was in");
});

test("the keys of a slider do what the W3C pattern says, and Escape goes back to before", async ({page}) => {
  await openLesson(page, "01-the-wire");
  const cable = page.getByRole("slider", {name: /guitar cable/});
  await cable.focus();
  await page.keyboard.press("ArrowRight");
  await expect(cable).toHaveAttribute("aria-valuetext", /^6 metres/);
  await page.keyboard.press("End");
  await expect(cable).toHaveAttribute("aria-valuetext", /^20 metres/);
  await page.keyboard.press("Home");
  await expect(cable).toHaveAttribute("aria-valuetext", /^0.5 metres/);
  await page.keyboard.press("PageUp");
  await page.keyboard.press("Escape");
  await expect(cable).toHaveAttribute("aria-valuetext", /^0.5 metres/);
});

test("back to start puts every control where the lesson begins", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await page.locator("bench-controls").getByRole("button", {name: "Back to start"}).click();
  await expect(entry).toHaveValue("33\u00a0nF");

  await entry.fill("0,05 µF");
  await entry.press("Enter");
  await expect(page.locator("#control-C1-note")).toContainText("The nearest that can be bought here");
  await page.locator("bench-controls").getByRole("button", {name: "Back to start"}).click();
  await expect(entry).toHaveValue("33\u00a0nF");
  await expect(page.locator("#control-C1-note")).toHaveText("");
});

test("at 1440 by 900 the words under a scale keep clear of the rule below them", async ({page}) => {
  for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor"]) {
    await openLesson(page, slug);
    const [words, rule] = await Promise.all([
      page.locator(".bench .panel .ends").filter({visible: true}).first().boundingBox(),
      page.locator(".bench .player").boundingBox(),
    ]);
    expect((rule?.y ?? NaN) - (words?.y ?? NaN) - (words?.height ?? NaN), slug).toBeGreaterThanOrEqual(8);
  }
});

test("the gain control is taken down as lesson 6 says: by its arc, and by typing over its percentage", async ({
  page,
}) => {
  await openLesson(page, "06-leg-capacitor");
  const said = page.locator("#turn-it > p").first();
  await expect(said).toContainText("drag its arc downwards, or type 0 over its percentage");
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  const entry = page.getByRole("textbox", {name: "RV1: type a rotation"});
  const arc = page.getByRole("slider", {name: /gain control$/});
  const {x = 0, y = 0, width = 0, height = 0} = (await arc.boundingBox()) ?? {};
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + width / 2, y + height / 2 + 60, {steps: 4});
  await page.mouse.up();
  await expect(entry).toHaveValue("fully down");
  await page.getByRole("button", {name: "Back to start"}).first().click();
  await expect(entry).toHaveValue("9\u00a0%");
  await entry.focus();
  await page.keyboard.type("0");
  await page.keyboard.press("Enter");
  await expect(entry).toHaveValue("fully down");
  await expect(page.locator("#control-RV1-note")).not.toContainText("can't");
});
