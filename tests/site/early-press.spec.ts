import {test as plain, expect} from "@playwright/test";
import {servedFolder} from "../../scripts/served-folder.mjs";
import {atRoot} from "./routes.ts";

plain("a press on play before any script has come is not lost", async ({page}) => {
  const {address, close} = await servedFolder(atRoot.folder);
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  await page.route(/\.js$/, async (route) => {
    await held;
    await route.continue();
  });
  await page.goto(`${address}lessons/02-in-the-way/`, {waitUntil: "commit"});
  const play = page.getByRole("button", {name: "Play", exact: true});
  await play.click();
  await expect(play).toBeVisible();
  letGo();
  await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
  await expect(page.locator("bench-player .said")).toHaveText(/^Now plays/, {timeout: 30_000});
  close();
});
