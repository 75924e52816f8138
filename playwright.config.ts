import {defineConfig} from "@playwright/test";

const launchOptions = {
  ...(process.env["CHROMIUM"] ? {executablePath: process.env["CHROMIUM"]} : {}),
  args: [
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--autoplay-policy=user-gesture-required",
  ],
};

export default defineConfig({
  testDir: "tests/site",
  outputDir: "tests/output/site",
  workers: 2,
  fullyParallel: true,
  timeout: 60_000,
  retries: 0,
  expect: {timeout: 8000},
  use: {actionTimeout: 8000, browserName: "chromium", launchOptions, viewport: {width: 1440, height: 900}},
});
