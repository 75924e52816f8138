import {existsSync} from "node:fs";
import {join, resolve} from "node:path";
import {chromium, type Browser} from "@playwright/test";
import {servedFolder} from "../../../scripts/served-folder.mjs";

/**
 * Serves the site as it was built last (SITE_FOLDER names another build) to a Chromium while `act` runs; without either, says what
 * is missing. `about` begins that sentence.
 */
export async function withSite(
  about: string,
  act: (browser: Browser, address: string) => Promise<void>,
): Promise<void> {
  const folder = resolve(import.meta.dirname, "../../..", process.env["SITE_FOLDER"] ?? "dist");
  const program = process.env["CHROMIUM"] ?? chromium.executablePath();
  if (!existsSync(join(folder, "index.html")))
    return console.log(`${about} is left out: build the site first, with npm run build.`);
  if (!existsSync(program))
    return console.log(`${about} is left out: there is no Chromium at ${program}; CHROMIUM names one.`);
  const site = await servedFolder(folder);
  const browser = await chromium.launch({executablePath: program, args: ["--no-sandbox"]});
  try {
    await act(browser, site.address);
  } finally {
    await browser.close();
    site.close();
  }
}
