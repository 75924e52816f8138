import {readFileSync} from "node:fs";
import type {Page} from "@playwright/test";
import {heardStages} from "../../src/engine/course/heard-stages.ts";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {readWav} from "../../src/engine/sound/wav.ts";
import {contents} from "../../src/lessons/contents.ts";
import {countContexts} from "./count-contexts.ts";
import {expect, test} from "./site.ts";

async function downloaded(page: Page, button: RegExp, timeout = 8000): Promise<{name: string; bytes: Buffer}> {
  const download = page.waitForEvent("download", {timeout});
  await page.locator("whole-build").getByRole("button", {name: button}).click();
  const file = await download;
  return {name: file.suggestedFilename(), bytes: readFileSync(await file.path())};
}

test("the file holds every stage, each as loud as the others, none above −1 dBFS, and its cue lists fit it", async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.goto("listen/");
  const {name, bytes} = await downloaded(page, /^sound/, 500_000);
  expect(name).toBe("part-by-part-whole-build-riff.wav");
  // RIFF: bits a sample at byte 34, two bytes, the low one first.
  expect(bytes.readUInt16LE(34)).toBe(24);
  const {sampleRateHz, channels} = readWav(Uint8Array.from(bytes));
  expect([sampleRateHz, channels.length]).toEqual([48_000, 1]);
  const whole = channels[0] ?? new Float32Array(0);
  expect(whole.reduce((most, each) => Math.max(most, Math.abs(each)), 0)).toBeLessThanOrEqual(10 ** (-1 / 20));

  const csv = (await downloaded(page, /CSV/)).bytes.toString("utf8");
  const rows = csv.trimEnd().split("\r\n").slice(1);
  expect(rows).toHaveLength(heardStages.length);
  const loudnesses = rows.map((row) => {
    const [, start = "", end = ""] = row.split(",");
    const from = Math.round(Number(start) * 48_000);
    return integratedLoudness(whole.subarray(from, Math.round(Number(end) * 48_000)), 48_000);
  });
  test.info().annotations.push({type: "LUFS", description: loudnesses.map((each) => each.toFixed(3)).join(" ")});
  // Meters to EBU Tech 3341 agree within 0.1 LU.
  expect(Math.max(...loudnesses) - Math.min(...loudnesses)).toBeLessThan(0.1);
  const last = Number(rows.at(-1)?.split(",")[2]);
  expect(Math.abs(last * 48_000 - whole.length)).toBeLessThan(1); // a microsecond is less than a sample

  const vtt = (await downloaded(page, /WebVTT/)).bytes.toString("utf8");
  // The browser's own reader of WebVTT is the judge.
  const cues = await page.evaluate(async (text) => {
    const track = document.createElement("track");
    const video = document.createElement("video");
    video.append(track);
    document.body.append(video);
    track.track.mode = "hidden";
    const read = new Promise((resolve) => track.addEventListener("load", resolve));
    track.src = URL.createObjectURL(new Blob([text], {type: "text/vtt"}));
    await read;
    return [...(track.track.cues ?? [])].map((cue) => ({
      startTime: cue.startTime,
      endTime: cue.endTime,
      text: (cue as VTTCue).text,
    }));
  }, vtt);
  expect(cues.map(({text}) => text)).toEqual(
    heardStages.map((lesson) => {
      const {title = "", adds = ""} = contents[lesson - 1] ?? {};
      if (lesson === 16) return "16. The whole pedal\nall its parts";
      return `${lesson}. ${title}\n${adds}`;
    }),
  );
  for (const [k, {startTime, endTime}] of cues.entries()) {
    const [, start, end] = rows[k]?.split(",") ?? [];
    // WebVTT tells thousandths.
    expect(Math.abs(startTime - Number(start))).toBeLessThan(0.001);
    expect(Math.abs(endTime - Number(end))).toBeLessThan(0.001);
  }
});

/** Lets workers be asked so many things and keeps back the rest. What it returns lets everything go. */
async function holdWorkAfter(page: Page, asked: number): Promise<() => Promise<void>> {
  await page.addInitScript((most) => {
    let left = most;
    const held: (() => void)[] = [];
    const letGo = () => {
      left = Infinity;
      for (const go of held.splice(0)) go();
    };
    Object.assign(globalThis, {letGo});
    const Original = globalThis.Worker;
    globalThis.Worker = class extends Original {
      override postMessage(message: unknown, options?: StructuredSerializeOptions | Transferable[]) {
        const go = () => super.postMessage(message, options as StructuredSerializeOptions);
        if (left-- > 0) go();
        else held.push(go);
      }
    };
  }, asked);
  return () => page.evaluate(() => (globalThis as unknown as {letGo: () => void}).letGo());
}

test("it plays on a press only, and each stage as soon as it is there", async ({page}) => {
  const contexts = await countContexts(page);
  const letGo = await holdWorkAfter(page, 1);
  await page.goto("listen/");
  const build = page.locator("whole-build");
  expect(await contexts()).toEqual([]);
  await expect(build.locator(".volume input")).toHaveAttribute("aria-valuetext", "18 decibels below full");
  await expect(build.getByText("Start low. Headphones off your ears for the first note.")).toBeVisible();
  await build.getByRole("button", {name: "Play all stages"}).click();
  await expect(build.locator(".stage-now")).toHaveText("1. The wire (guitar, cable, amplifier)");
  expect(await contexts()).toEqual(["running"]);
  await expect(build.locator(".transport").getByText("1 of 15 stages are worked out")).toBeVisible();
  // A stage that is not there yet is remembered; what sounds goes on.
  await build.getByRole("button", {name: /^10 Two diodes/}).click();
  await expect(build.locator(".said")).toHaveText("10. Two diodes plays as soon as it is worked out.");
  await expect(build.locator(".stage-now")).toHaveText(/^1\. The wire/);
  await letGo();
  await expect(build.locator(".stage-now")).toHaveText("10. Two diodes (D1, D2)", {timeout: 30_000});
  await expect(build.locator("[aria-current]")).toHaveText(/^\s*10\s*Two diodes/);
  await expect(build.locator(".said")).toHaveText("");
});

test("the next stage follows by itself, and stopping is in reach at the last one", async ({page}) => {
  test.setTimeout(120_000);
  for (const [width, height] of [
    [390, 844],
    [1440, 900],
  ] as const) {
    await page.setViewportSize({width, height});
    await page.goto("listen/");
    const build = page.locator("whole-build");
    await build.getByRole("button", {name: /^6 The leg capacitor/}).press("Enter");
    await expect(build.locator(".stage-now")).toHaveText("6. The leg capacitor (C3)", {timeout: 30_000});
    // A phrase later the next stage has come by itself.
    await expect(build.locator(".stage-now")).toHaveText("7. Out again (C5, RV2)", {timeout: 30_000});
    const last = build.getByRole("button", {name: /^16 The whole pedal/});
    await last.focus();
    await expect(build.getByRole("button", {name: "Stop"})).toBeInViewport({ratio: 1});
    await expect(build.getByRole("slider", {name: "Volume"})).toBeInViewport({ratio: 1});
    // What is focused going back up does not lie behind it.
    const sixth = build.getByRole("button", {name: /^6 The leg capacitor/});
    for (let presses = 0; presses < 10; presses++) await page.keyboard.press("Shift+Tab");
    await expect(sixth).toBeFocused();
    const [stage, transport] = [await sixth.boundingBox(), await build.locator(".transport").boundingBox()];
    expect(stage?.y).toBeGreaterThanOrEqual((transport?.y ?? 0) + (transport?.height ?? 0));
    await build.getByRole("button", {name: "Stop"}).click();
    await expect(build.getByRole("button", {name: "Play"})).toBeVisible();
    await expect(build.locator("[aria-current]")).toHaveCount(1);
  }
});

test("working out can be given up, and another phrase has other times", async ({page}) => {
  await page.goto("listen/");
  const build = page.locator("whole-build");
  await build.getByRole("button", {name: "Play"}).click();
  await build.getByRole("button", {name: "Give up"}).click();
  await expect(build.locator(".said")).toHaveText("Given up.");
  await expect(build.getByRole("button", {name: "Play"})).toBeVisible();
  await build.getByRole("combobox", {name: "Phrase"}).selectOption("open chords left ringing");
  // Fifteen times 8.4 s.
  await expect(build.locator(".stage-now")).toHaveText("15 stages, 2:06 minutes");
  const {name, bytes} = await downloaded(page, /WebVTT/);
  expect(name).toBe("part-by-part-whole-build-open-chords-left-ringing.vtt");
  expect(bytes.toString("utf8")).toContain("00:00:08.400 --> 00:00:16.800");
});

test("a file shows how far it is beside the link that asked for it, and is given up there", async ({page}) => {
  await page.setViewportSize({width: 1180, height: 800});
  await page.goto("listen/");
  const build = page.locator("whole-build");
  const wav = build.getByRole("button", {name: /^sound/});
  await wav.click();
  const progress = build.getByRole("progressbar");
  await expect(progress).toBeInViewport();
  const [asked, shown] = [await wav.boundingBox(), await progress.boundingBox()];
  expect(Math.abs((shown?.y ?? 0) - (asked?.y ?? 0))).toBeLessThan(150);
  await expect(build.locator(".said-of-file")).toContainText("Working all stages out, closer to the circuit");
  await build.getByRole("button", {name: "Give up"}).click();
  await expect(build.locator(".said-of-file")).toHaveText("Given up.");
  await expect(wav).toBeFocused();
});
