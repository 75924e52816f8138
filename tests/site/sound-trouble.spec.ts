import {closeSync, openSync, readFileSync, ftruncateSync, writeSync} from "node:fs";
import type {Page} from "@playwright/test";
import {countContexts} from "./count-contexts.ts";
import {openLesson} from "./open-lesson.ts";
import {renders} from "./renders.ts";
import {expect, forgiveTheLine, test} from "./site.ts";
import {watchDevice} from "./watch-device.ts";
import {floatWav, heldNote, wav} from "./wav.ts";

const said = (page: Page) => page.locator("bench-player .said");
const play = (page: Page) => page.getByRole("button", {name: "Play", exact: true});
const stop = (page: Page) => page.getByRole("button", {name: "Stop", exact: true});
const ceiling = 10 ** (-1 / 20);

test("a device that is too slow gets a coarser sound, step by step, and is told so", async ({page}) => {
  test.setTimeout(120_000);
  // A sound thread whose clock says that every block took 4 ms, longer than it lasts.
  await page.addInitScript(() => {
    const add = AudioWorklet.prototype.addModule;
    AudioWorklet.prototype.addModule = async function (address, options) {
      const slow = "let passed = 0; Date.now = () => (passed += 4);";
      await add.call(this, URL.createObjectURL(new Blob([slow], {type: "text/javascript"})));
      await add.call(this, address, options);
    };
  });
  const peak = await watchDevice(page);
  await openLesson(page, "02-in-the-way");
  await play(page).click();
  await expect(said(page)).toHaveText(/cannot keep up.*\(4 times the device’s rate\)/, {timeout: 60_000});
  await expect(said(page)).toHaveText(/cannot keep up.*\(at the device’s rate\)/, {timeout: 60_000});
  await expect(stop(page)).toBeVisible();
  expect(await peak()).toBeGreaterThan(1e-3);
});

test("a browser without live sound plays what has been worked out", async ({page}) => {
  test.setTimeout(120_000);
  await page.addInitScript(() => {
    Reflect.deleteProperty(globalThis, "AudioWorkletNode");
    Reflect.deleteProperty(globalThis, "AudioWorklet");
  });
  const peak = await watchDevice(page);
  await openLesson(page, "02-in-the-way");
  await play(page).click();
  await expect.poll(peak, {timeout: 60_000}).toBeGreaterThan(1e-3);
  await expect(said(page)).toHaveText(/quieter here|quietest here/);
  // Nothing is drawn live there.
  await expect(page.getByText("Watch", {exact: true})).toBeHidden();
  await page.getByRole("radio", {name: "wire", exact: true}).check();
  await expect(said(page)).toHaveText(/^The wire is/);
  await stop(page).click();
  await expect(play(page)).toBeVisible();
});

test("a sound that the system interrupts stays off until it is asked for again", async ({page}) => {
  const contexts = await countContexts(page);
  await openLesson(page, "02-in-the-way");
  await play(page).click();
  await expect.poll(contexts).toEqual(["running"]);
  await expect(said(page)).toHaveText(/here/);
  const device = (act: "suspend" | "resume") =>
    // Not waited for: what is overtaken by another wish may never be granted.
    page.evaluate((act) => void (globalThis as unknown as {made: AudioContext[]}).made[0]?.[act](), act);
  await device("suspend");
  await expect(said(page)).toHaveText("The sound was interrupted by the system. Press play to go on.");
  await expect(play(page)).toBeVisible();
  await device("resume");
  await expect.poll(contexts).toEqual(["suspended"]);
  await play(page).click();
  await expect.poll(contexts).toEqual(["running"]);
  await expect(stop(page)).toBeVisible();
});

for (const failed of ["sound thread", "device"] as const)
  test(`where the ${failed} fails, the page says so, and the next press starts another`, async ({page}) => {
    const [contexts, peak] = [await countContexts(page), await watchDevice(page)];
    await page.addInitScript(() => {
      const Original = AudioWorkletNode;
      globalThis.AudioWorkletNode = class extends Original {
        constructor(...given: ConstructorParameters<typeof AudioWorkletNode>) {
          super(...given);
          Object.assign(globalThis, {thread: this});
        }
      };
    });
    await openLesson(page, "02-in-the-way");
    await play(page).click();
    await expect.poll(contexts).toEqual(["running"]);
    await expect(said(page)).toHaveText(/here/);
    await page.evaluate((failed) => {
      const {thread} = globalThis as unknown as {thread: AudioWorkletNode};
      if (failed === "device") thread.context.dispatchEvent(new Event("error"));
      else thread.dispatchEvent(new Event("processorerror"));
    }, failed);
    await expect(said(page)).toHaveText("The sound has failed, or its device is gone. Press play to start it anew.");
    await expect.poll(contexts).toEqual(["closed"]);
    await play(page).click();
    await expect.poll(contexts).toEqual(["closed", "running"]);
    await expect.poll(peak).toBeGreaterThan(1e-3);
    await expect(said(page)).toHaveText(/here/);
  });

test("what was chosen before the first press holds for the sound that it starts", async ({page}) => {
  await page.addInitScript(() => {
    const told: unknown[] = [];
    Object.assign(globalThis, {told});
    const postMessage = MessagePort.prototype.postMessage as (...given: unknown[]) => void;
    MessagePort.prototype.postMessage = function (this: MessagePort, ...given: unknown[]) {
      told.push(given[0]);
      postMessage.apply(this, given);
    };
  });
  await openLesson(page, "02-in-the-way");
  await page.getByText("In and out").click();
  await page.getByRole("switch", {name: /loudspeaker/}).click();
  await play(page).click();
  await expect(said(page)).toHaveText(/here/);
  const told = await page.evaluate(() => (globalThis as unknown as {told: {kind?: string; on?: boolean}[]}).told);
  expect(told.filter(({kind}) => kind === "loudspeaker")).toEqual([{kind: "loudspeaker", on: false}]);
});

test("a line that was down for the first press is tried again at the second", async ({page, complaints}) => {
  let down = true;
  await page.route(/\/works\.[^/]*\.js$/, (route) => (down ? route.abort() : route.continue()));
  await openLesson(page, "02-in-the-way");
  await play(page).click();
  await expect(said(page)).toHaveClass(/wrong/);
  await expect(play(page)).toBeVisible();
  down = false;
  await play(page).click();
  await expect(said(page)).toHaveText(/quieter here|quietest here/, {timeout: 30_000});
  await expect(stop(page)).toBeVisible();
  forgiveTheLine(complaints);
});

test("a file at no rate at all, full of numbers that are none, or two hours long gets a sentence, and the phrase plays on", async ({
  page,
}) => {
  test.setTimeout(120_000);
  const peak = await watchDevice(page);
  await openLesson(page, "01-the-wire");
  await play(page).click();
  await page.getByText("In and out").click();
  const input = page.getByLabel(/sound file from this computer/);
  const give = (name: string, buffer: Buffer) => input.setInputFiles({name, mimeType: "audio/wav", buffer});
  const note = heldNote(441, 2, 48_000);
  await give("no-rate.wav", wav(note, 0));
  await expect(said(page)).toHaveText("“no-rate.wav” could not be read as sound. Try a WAV, MP3, OGG or M4A file.");
  await give("none.wav", floatWav(new Float32Array(96_000).fill(NaN), 48_000));
  await expect(said(page)).toHaveText("“none.wav” is silent. Choose a file with sound in it.");
  const path = test.info().outputPath("two-hours.wav");
  const file = openSync(path, "w");
  const [rateHz, seconds] = [8000, 7200];
  const head = wav(new Float64Array(0), rateHz);
  head.writeUInt32LE(36 + 2 * rateHz * seconds, 4);
  head.writeUInt32LE(2 * rateHz * seconds, 40);
  writeSync(file, head);
  ftruncateSync(file, head.length + 2 * rateHz * seconds);
  closeSync(file);
  await input.setInputFiles(path);
  await expect(said(page)).toHaveText(
    "“two-hours.wav” lasts 120 minutes. Up to 10 can be opened: cut out the half minute you want to hear.",
    {timeout: 20_000},
  );
  await expect(stop(page)).toBeVisible();
  await expect.poll(peak, {timeout: 20_000}).toBeGreaterThan(1e-4);
  expect(await peak()).toBeLessThan(ceiling);
});

test("a file at 384 kHz, and one that is half numbers that are none, play at their pitch and under the ceiling", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await openLesson(page, "01-the-wire");
  await page.getByText("In and out").click();
  const give = (name: string, buffer: Buffer) =>
    page.getByLabel(/sound file from this computer/).setInputFiles({name, mimeType: "audio/wav", buffer});
  const risingIn = (samples: Float32Array, from: number) => {
    let count = 0;
    for (let n = from; n < from + 48_000; n++) if ((samples[n - 1] ?? 0) < 0 && (samples[n] ?? 0) >= 0) count++;
    return count;
  };
  const now = async () => {
    const samples = (await renders(page)).find(({voice}) => voice === "now")?.samples ?? new Float32Array(0);
    expect(samples.every((sample) => Math.abs(sample) <= ceiling)).toBe(true);
    expect(samples.some((sample) => Math.abs(sample) > 0.05)).toBe(true);
    return samples;
  };
  await give("high.wav", wav(heldNote(441, 2, 384_000), 384_000));
  await expect(said(page)).toContainText("Playing “high.wav” through the circuit.", {timeout: 20_000});
  expect(Math.abs(risingIn(await now(), 24_000) - 441)).toBeLessThanOrEqual(1);
  const half = Float32Array.from(heldNote(441, 4, 48_000));
  half.fill(NaN, 0, 96_000);
  await give("half.wav", floatWav(half, 48_000));
  await expect(said(page)).toContainText("Playing “half.wav” through the circuit.", {timeout: 20_000});
  expect(Math.abs(risingIn(await now(), 120_000) - 441)).toBeLessThanOrEqual(1);
});

test("a file that is no sound leaves what plays as it was", async ({page}) => {
  await openLesson(page, "01-the-wire");
  const before = (await renders(page)).find(({voice}) => voice === "now")?.samples.length;
  await page.getByText("In and out").click();
  await page
    .getByLabel(/sound file from this computer/)
    .setInputFiles({name: "notes.wav", mimeType: "audio/wav", buffer: readFileSync("README.md")});
  await expect(said(page)).toContainText("could not be read as sound");
  expect((await renders(page)).find(({voice}) => voice === "now")?.samples.length).toBe(before);
});
