// Finds a Chromium to drive the site with, or installs Debian's when that is possible.
import {execFileSync} from "node:child_process";
import {existsSync} from "node:fs";
import {delimiter, join} from "node:path";
import {run} from "./project.mjs";

const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const places = [
  "/snap/bin/chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
];

function onSystem() {
  const folders = (process.env.PATH ?? "").split(delimiter).concat("/usr/bin", "/usr/local/bin");
  const candidates = [...folders.flatMap((folder) => names.map((name) => join(folder, name))), ...places];
  return candidates.find((path) => existsSync(path));
}

async function ofPlaywright() {
  // An old system Node may be too old for the package: then its browser is none to reckon with.
  const path = await import("@playwright/test").then(({chromium}) => chromium.executablePath()).catch(() => undefined);
  return path && existsSync(path) ? path : undefined;
}

function onDebianAsRoot() {
  if (process.getuid?.() !== 0) return false;
  try {
    execFileSync("apt-get", ["--version"], {stdio: "ignore"});
    return true;
  } catch {
    return false;
  }
}

/** Path of a Chromium. Throws one sentence that says how to get one, where none is found and none can be installed. */
export async function browser() {
  const found = process.env.CHROMIUM ?? onSystem() ?? (await ofPlaywright());
  if (found) return found;
  if (onDebianAsRoot()) {
    console.log("Installing Debian's chromium for the browser tests …");
    await run("apt-get", ["update", "-qq"]);
    await run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium"], {output: "ignore"});
    const installed = onSystem();
    if (installed) return installed;
  }
  throw new Error(
    "No Chromium was found: install one (on Debian: apt-get install chromium), or set CHROMIUM to its path.",
  );
}
