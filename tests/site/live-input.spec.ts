import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";
import {watchDevice} from "./watch-device.ts";

// Chromium's own stand-in for an input: short beeps, no device and no question.
test.use({
  permissions: ["microphone"],
  launchOptions: async ({launchOptions}, use) =>
    use({...launchOptions, args: [...(launchOptions.args ?? []), "--use-fake-device-for-media-stream"]}),
});

test("an input is opened by a press, played quietly, measured, and closed again", async ({page}) => {
  test.setTimeout(120_000);
  const peak = await watchDevice(page);
  await openLesson(page, "02-in-the-way");
  const input = page.locator("live-input");
  await page.getByText("In and out").click();
  await page.getByText("Play your own guitar").click();
  await expect(input.getByText("a microphone that hears its own loudspeaker howls")).toBeVisible();
  await page.getByRole("button", {name: "Open the input"}).click();
  await expect(input.locator(".told")).toHaveText(/“.+” is open\./, {timeout: 60_000});
  await expect(input.locator(".peak")).toHaveText(/hardest so far: −?\d+(\.\d+)?\s?dB of full scale/, {
    timeout: 60_000,
  });
  await expect(input.locator(".latency")).toHaveText(/about \d+(\.\d+)?\s?[mµ]?s/);
  const volume = page.getByRole("slider", {name: "Volume", exact: true});
  await expect(volume).toHaveAttribute("aria-valuetext", "30 decibels below full");
  await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
  await expect.poll(peak, {timeout: 60_000}).toBeGreaterThan(1e-4);
  expect(await peak()).toBeLessThan(10 ** (-30 / 20));
  await page.getByRole("button", {name: "Close the input"}).click();
  await expect(input.locator(".told")).toHaveText("The input is closed; the phrase plays again.");
  await expect(page.getByRole("button", {name: "Open the input"})).toBeVisible();
});

test("an input that is refused gets a sentence, and the lesson plays on", async ({page, context}) => {
  await context.clearPermissions();
  await page.addInitScript(() => {
    navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("no", "NotAllowedError"));
  });
  await openLesson(page, "02-in-the-way");
  await page.getByText("In and out").click();
  await page.getByText("Play your own guitar").click();
  await page.getByRole("button", {name: "Open the input"}).click();
  await expect(page.locator("live-input .told")).toHaveText(
    "The browser was not allowed to use the input. Allow it for this page, then press again.",
  );
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
});

test("an input that goes away in mid-phrase is muted, and the phrase plays again", async ({page}) => {
  test.setTimeout(120_000);
  await page.addInitScript(() => {
    const tracks: MediaStreamTrack[] = [];
    Object.assign(globalThis, {tracks});
    const devices = navigator.mediaDevices;
    const original = devices.getUserMedia.bind(devices);
    devices.getUserMedia = async (asked) => {
      const stream = await original(asked);
      tracks.push(...stream.getTracks());
      return stream;
    };
  });
  await openLesson(page, "02-in-the-way");
  await page.getByText("In and out").click();
  await page.getByText("Play your own guitar").click();
  await page.getByRole("button", {name: "Open the input"}).click();
  const told = page.locator("live-input .told");
  await expect(told).toHaveText(/“.+” is open\./, {timeout: 60_000});
  await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
  // What the system tells a page when a device has been pulled out.
  await page.evaluate(() =>
    (globalThis as unknown as {tracks: MediaStreamTrack[]}).tracks.forEach((track) =>
      track.dispatchEvent(new Event("ended")),
    ),
  );
  await expect(told).toHaveText("The input has gone away, so it was muted; the phrase plays again.");
  await expect(page.getByRole("button", {name: "Open the input"})).toBeVisible();
  await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
  const ended = await page.evaluate(() =>
    (globalThis as unknown as {tracks: MediaStreamTrack[]}).tracks.every(({readyState}) => readyState === "ended"),
  );
  expect(ended).toBe(true);
});
