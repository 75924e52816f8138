import type {Page} from "@playwright/test";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

// Cycles and loudness are worked out by a worker that shares the machine with everything else.
const patient = {timeout: 30_000};

/** Notes which elements are marked as behind the bench from here on, by tag and name. */
const watch = (page: Page) =>
  page.evaluate(() => {
    const marked = new Set<string>();
    Object.assign(window, {marked});
    new MutationObserver((records) => {
      for (const {target} of records) {
        if (!(target instanceof HTMLElement) || target.getAttribute("aria-busy") !== "true") continue;
        marked.add(`${target.localName} ${target.getAttribute("name") ?? target.dataset["says"] ?? ""}`.trim());
      }
    }).observe(document, {subtree: true, attributeFilter: ["aria-busy"]});
  });
const marked = (page: Page) => page.evaluate(() => [...(window as unknown as {marked: Set<string>}).marked]);

test("what a worker is still at is dimmed until it fits the bench again", async ({page}) => {
  test.slow();
  await openLesson(page, "10-two-diodes");
  await watch(page);
  const output = page.locator("#see-it live-reading[name=clippingOutput]").first();
  const before = await output.textContent();
  await page.getByRole("button", {name: "RV1", exact: true}).first().click();
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  await page.getByRole("slider", {name: /gain control$/}).focus();
  await page.keyboard.press("Home");
  await expect
    .poll(() => marked(page), patient)
    .toEqual(expect.arrayContaining(["live-reading clippingOutput", "span level", "clipping-figure"]));
  await expect(page.locator("[aria-busy=true]")).toHaveCount(0, patient);
  expect(await output.textContent()).not.toBe(before);
  await expect(page.locator("what-changed p")).toContainText("The phrase is");
});

test("what changed never says the loudness of the bench before a move", async ({page}) => {
  test.slow();
  await openLesson(page, "06-leg-capacitor");
  const changed = page.locator("what-changed");
  await page.locator(".picker").getByRole("button", {name: "C3", exact: true}).click();
  await page.getByRole("slider", {name: /leg capacitor/}).focus();
  // The first move fetches the sentences.
  await page.keyboard.press("ArrowRight");
  await expect(changed.locator("p")).toContainText("The phrase is", patient);
  await changed.evaluate((host) => {
    const seen: string[] = [];
    Object.assign(window, {seen});
    new MutationObserver(() => seen.push(host.querySelector("p")?.textContent ?? "")).observe(host, {
      subtree: true,
      childList: true,
    });
  });
  await page.keyboard.press("End");
  await expect(changed.locator("p")).toContainText(/4\.82\sHz.*The phrase is/s, patient);
  const seen = await page.evaluate(() => (window as unknown as {seen: string[]}).seen);
  expect(seen[0]).toMatch(/4\.82\sHz.*Loudness follows\.$/s);
  expect(seen.filter((text) => text.includes("The phrase is"))).toHaveLength(1);
});

test("what arrives with the move is never dimmed", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const corner = page.locator("#remember live-reading[name=inputCorner]");
  const slider = page.getByRole("slider", {name: /coupling capacitor/});
  await slider.focus();
  // The first move fetches what works readings out.
  await page.keyboard.press("ArrowLeft");
  await expect(corner).not.toHaveText(/^9\.5/);
  await expect(page.locator("[aria-busy=true]")).toHaveCount(0, patient);
  await watch(page);
  const before = await corner.textContent();
  await page.keyboard.press("Home");
  await expect(corner).not.toHaveText(before ?? "");
  await expect(page.locator("what-changed p")).toContainText("The phrase is", patient);
  expect((await marked(page)).filter((name) => name.includes("inputCorner"))).toEqual([]);
});

test("who comes by a link never sees the start's numbers undimmed", async ({page}) => {
  await page.addInitScript(() => {
    const seen: string[] = [];
    Object.assign(window, {seen});
    const look = () => {
      const reading = document.querySelector("#remember live-reading[name=inputCorner]");
      if (reading && getComputedStyle(reading).opacity === "1") seen.push(reading.textContent);
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await page.goto("lessons/02-in-the-way/#C1=1n");
  const corner = page.locator("#remember live-reading[name=inputCorner]");
  await expect(corner).toHaveText(/^315/);
  await expect(corner).toHaveCSS("opacity", "1");
  const seen = await page.evaluate(() => [...new Set((window as unknown as {seen: string[]}).seen)]);
  expect(seen).toEqual([await corner.textContent()]);
});
