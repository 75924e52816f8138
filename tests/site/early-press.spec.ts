import {test as plain, expect, type Page} from "@playwright/test";
import {servedFolder} from "../../scripts/served-folder.mjs";
import {atRoot} from "./routes.ts";

/** Holds scripts back until a promise is kept. */
const holdBack = (page: Page, held: Promise<void>, which: (address: string) => boolean) =>
  page.route(/\.js$/, async (route) => {
    if (which(route.request().url())) await held;
    await route.continue();
  });

plain("a press on play before any script has come is not lost", async ({page}) => {
  const {address, close} = await servedFolder(atRoot.folder);
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  await holdBack(page, held, () => true);
  await page.goto(`${address}lessons/02-in-the-way/`, {waitUntil: "commit"});
  const play = page.getByRole("button", {name: "Play", exact: true});
  await play.click();
  await expect(play).toBeVisible();
  letGo();
  await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
  await expect(page.locator("bench-player .said")).toHaveText(/^Now plays/, {timeout: 30_000});
  close();
});

plain("a press that the player took before the rest of the page was alive counts once", async ({page}) => {
  const {address, close} = await servedFolder(atRoot.folder);
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  await holdBack(page, held, (script) => script.includes("/Exercise"));
  await page.goto(`${address}lessons/02-in-the-way/`, {waitUntil: "commit"});
  await page.waitForFunction(() => customElements.get("bench-player"));
  await page.getByRole("button", {name: "Play", exact: true}).click();
  const stop = page.getByRole("button", {name: "Stop", exact: true});
  await expect(stop).toBeVisible();
  letGo();
  await page.locator("html[data-alive]").waitFor({state: "attached"});
  await expect(page.locator("bench-player .said")).toHaveText(/^Now plays/, {timeout: 30_000});
  await expect(stop).toBeVisible();
  close();
});
