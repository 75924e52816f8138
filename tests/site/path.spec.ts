import {contents} from "../../src/lessons/contents.ts";
import {exercisesOf} from "../../src/lessons/exercises/exercises.ts";
import {atRoot, documentOf, routesOf} from "./routes.ts";
import {expect, test} from "./site.ts";

const pages = routesOf(atRoot).filter((route) => /^lessons\/./.test(route));

for (const [name, route] of [
  ["front page", ""],
  ["lesson index", "lessons/"],
] as const) {
  test(`the path on the ${name} names all twenty-one lessons, and links to those there are`, () => {
    const stops = [...documentOf(atRoot, route).querySelectorAll("main .path .stop")];
    expect(stops.map((stop) => Number(stop.querySelector(".number")?.textContent))).toEqual(
      Array.from({length: 21}, (_, k) => k + 1),
    );
    const linked = stops.filter((stop) => stop.querySelector("a"));
    const targets = linked.map((stop) => stop.querySelector("a")?.getAttribute("href")?.replace(/^\//, ""));
    expect(targets.sort()).toEqual([...pages].sort());
    for (const stop of stops) {
      const says = /coming/.test(stop.textContent);
      expect(says, `“${stop.textContent.trim().replace(/\s+/g, " ")}” says that it is coming`).toBe(
        !linked.includes(stop),
      );
    }
  });
}

test("a narrow desk's rail shows no broken name: numbers, and whole names in one line once it is pointed at or focused", async ({
  page,
}) => {
  await page.setViewportSize({width: 1180, height: 800});
  await page.goto("lessons/06-leg-capacitor/");
  const rail = page.locator(".lesson-path");
  const width = async () => (await rail.boundingBox())?.width ?? NaN;
  expect(await width()).toBe(64);
  const lines = () =>
    rail
      .locator(".stop .title")
      .evaluateAll((titles) =>
        Math.max(...titles.map((title) => Math.round(title.getBoundingClientRect().height / 19))),
      );
  const tops = () =>
    rail.locator(".name").evaluateAll((names) => names.map((name) => name.getBoundingClientRect().top));
  const before = await tops();
  await rail.hover();
  expect(await width()).toBeGreaterThan(250);
  expect(await lines()).toBe(1);
  // What the pointer is on stays under it.
  expect(await tops()).toEqual(before);
  await page.mouse.move(700, 600);
  expect(await width()).toBe(64);
  await rail.getByRole("link", {name: "All lessons"}).focus();
  expect(await width()).toBeGreaterThan(250);
});

test("on a phone every place of the site is within the head of the page, by keyboard too", async ({page}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("lessons/06-leg-capacitor/");
  const more = page.locator(".site-header summary", {hasText: "More"});
  await more.focus();
  await page.keyboard.press("Enter");
  for (const name of ["Words", "Listen", "Exercises", "Safety", "About"])
    await expect(page.locator(".site-header").getByRole("link", {name})).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.locator(".site-header .more ul")).toBeHidden();
  await expect(more).toBeFocused();
  await page.keyboard.press("Enter");
  await page.locator(".site-header").getByRole("link", {name: "Exercises"}).click();
  await expect(page.getByRole("heading", {level: 1})).toContainText("xercises");
});

test("the list of lessons tells of each that is written its aim, its minutes and its exercises", async ({page}) => {
  await page.goto("lessons/");
  for (const {number, title} of contents.filter(({written}) => written)) {
    const stop = page.locator(".stop", {has: page.getByRole("link", {name: title, exact: false})});
    await expect(stop.locator(".about")).toContainText(/\.\s?About \d+\s?minutes\. Exercises \d/);
    const links = stop.getByRole("link", {name: /^Exercise /});
    await expect(links).toHaveText(exercisesOf(number).map(({id}) => id));
  }
});
