import {readFileSync} from "node:fs";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {readWav} from "../../src/engine/sound/wav.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

const ceiling = 10 ** (-1 / 20);

test("now and before are saved as they are played: equally loud, under the ceiling, 48 kHz and 24 bit", async ({
  page,
}) => {
  test.setTimeout(180_000);
  await openLesson(page, "02-in-the-way");
  await page.getByText("In and out").click();
  const saved = async (word: string) => {
    const player = page.locator("save-sound");
    await player.getByRole("combobox").selectOption({label: word});
    const download = page.waitForEvent("download", {timeout: 120_000});
    await player.getByRole("button", {name: "Save"}).click();
    const path = await (await download).path();
    const bytes = readFileSync(path);
    // RIFF: bits a sample at byte 34, two bytes, the low one first.
    expect(bytes.readUInt16LE(34)).toBe(24);
    const {sampleRateHz, channels} = readWav(Uint8Array.from(bytes));
    expect(sampleRateHz).toBe(48_000);
    return channels[0] ?? new Float32Array(0);
  };
  const [now, before, dry] = [await saved("now"), await saved("before"), await saved("what goes in")];
  expect(now.length).toBe(dry.length);
  expect(Math.abs(integratedLoudness(now, 48_000) - integratedLoudness(before, 48_000))).toBeLessThan(0.1);
  const peak = (samples: Float32Array) => samples.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
  for (const samples of [now, before]) {
    expect(peak(samples)).toBeGreaterThan(0.05);
    expect(peak(samples)).toBeLessThanOrEqual(ceiling);
  }
  // −12 dBFS, to the last of 24 bits.
  expect(Math.abs(peak(dry) - 10 ** (-12 / 20))).toBeLessThan(1e-6);
});

test("saving can be given up", async ({page}) => {
  await openLesson(page, "10-two-diodes");
  await page.getByText("In and out").click();
  const player = page.locator("save-sound");
  await player.getByRole("button", {name: "Save"}).click();
  await player.getByRole("button", {name: "Give up"}).click({timeout: 30_000});
  await expect(player.locator(".told")).toHaveText("Given up; nothing was saved.");
  await expect(player.getByRole("button", {name: "Save"})).toBeVisible();
});
