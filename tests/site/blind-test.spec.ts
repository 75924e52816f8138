import {readFileSync} from "node:fs";
import AxeBuilder from "@axe-core/playwright";
import type {Page} from "@playwright/test";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {countContexts} from "./count-contexts.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";
import {tabTo} from "./tab-to.ts";

type Started = {samples: Float32Array<ArrayBuffer>; waits: number};

/** From now on chance draws these sides, over and over, and every sound that starts is kept. */
async function watched(page: Page, sides: string) {
  await page.addInitScript((draws) => {
    const started: Started[] = [];
    let drawn = 0;
    Object.assign(globalThis, {started});
    crypto.getRandomValues = <T extends ArrayBufferView | null>(array: T): T => {
      if (array instanceof Uint8Array) array[0] = draws[drawn++ % draws.length] === "b" ? 1 : 0;
      return array;
    };
    const {start} = AudioBufferSourceNode.prototype;
    AudioBufferSourceNode.prototype.start = function (at = 0, offset = 0) {
      const samples = this.buffer?.getChannelData(0) ?? new Float32Array(0);
      started.push({samples, waits: at - this.context.currentTime});
      start.call(this, at, offset);
    };
  }, sides);
  return async (): Promise<{samples: Float32Array; waits: number}[]> => {
    const found = await page.evaluate(async () => {
      const {started} = globalThis as unknown as {started: Started[]};
      const text = (samples: Float32Array<ArrayBuffer>) =>
        new Promise<string>((resolve) => {
          const reader = new FileReader();
          reader.addEventListener("load", () => resolve(String(reader.result)));
          reader.readAsDataURL(new Blob([samples]));
        });
      return Promise.all(started.map(async ({samples, waits}) => ({waits, url: await text(samples)})));
    });
    return found.map(({waits, url}) => ({
      waits,
      samples: new Float32Array(Uint8Array.from(Buffer.from(url.slice(url.indexOf(",") + 1), "base64")).buffer),
    }));
  };
}

const prepare = async (page: Page, hash: string) => {
  await page.goto(`listen/#${hash}`);
  await expect(page.getByRole("option", {name: /The bench of this link/})).toBeAttached();
  await page.getByRole("button", {name: "Prepare the test"}).click();
  await expect(page.getByRole("heading", {name: /^Trial 1 of/})).toBeVisible({timeout: 60_000});
};

test("a blind test is taken without a pointer, tells nothing before its end, and then the result", async ({page}) => {
  test.setTimeout(120_000);
  const sides = "abbabaabba";
  await watched(page, sides);
  const contexts = await countContexts(page);
  await page.goto("listen/#lesson=2&C1=470p&trials=10");
  await expect(page.locator("blind-test .differs")).toContainText("C1");
  await tabTo(page, page.getByRole("button", {name: "Prepare the test"}));
  await page.keyboard.press("Enter");
  const press = (key: string) => page.keyboard.press(key);
  const shown: string[] = [];
  for (const [k, x] of [...sides].entries()) {
    await expect(page.getByRole("heading", {name: `Trial ${k + 1} of 10`})).toBeVisible({timeout: 60_000});
    await expect(page.getByRole("button", {name: "Play", exact: true})).toBeFocused();
    if (k === 0) expect(await contexts(), "nothing sounds before the press").toEqual([]);
    await press("Enter");
    await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeFocused();
    await press("Tab");
    await expect(page.getByRole("radio", {name: "A"})).toBeFocused();
    await press("ArrowRight");
    await press("ArrowRight");
    await expect(page.getByRole("radio", {name: "X"})).toBeChecked();
    shown.push((await page.locator("main").innerHTML()).replaceAll(`Trial ${k + 1}`, "Trial"));
    expect(await page.locator("blind-test").innerText()).not.toMatch(/right|wrong|score|before|now\b/i);
    // The last one is answered wrongly: 9 of 10 is the mark.
    const says = k < 9 ? x : x === "a" ? "b" : "a";
    await tabTo(page, page.getByRole("button", {name: `X is ${says.toUpperCase()}`}));
    await press("Enter");
  }
  // The page with X playing is the same to the letter whatever X is, but for the sentence of the first trial.
  const said = /<p class="said"[\s\S]*?<\/p>/;
  expect(new Set(shown.map((html) => html.replace(said, ""))).size).toBe(1);
  expect(new Set(shown.slice(1).map((html) => said.exec(html)?.[0])).size).toBe(1);

  const heading = page.getByRole("heading", {name: "9 of 10 right: you told them apart"});
  await expect(heading).toBeFocused();
  await expect(page.locator("blind-test .meaning")).toContainText(/The mark set beforehand was 9\. .* 1\.1\s%/);
  await expect(page.locator("blind-test .which")).toContainText("A was before, B was now.");
  await expect(page.locator("blind-test tbody tr")).toHaveCount(10);
  const download = page.waitForEvent("download");
  await tabTo(page, page.getByRole("button", {name: "Save this result"}));
  await press("Enter");
  const record = readFileSync(await (await download).path(), "utf8");
  expect(record).toMatch(/9 of 10 right[\s\S]*listen\/#lesson=2&C1=470p&trials=10\n[\s\S]*\n10\tA\tB\twrong\n/);
  await expect(page.locator("blind-test tbody tr").last()).toHaveText("10AB, wrong", {ignoreCase: false});
});

test("A, B and X are of one length and loudness, start alike, and X is A or B to the last bit", async ({page}) => {
  test.setTimeout(120_000);
  const started = await watched(page, "ba");
  await prepare(page, "lesson=2&C1=470p&trials=10&phrase=single-note-line");
  for (const trial of [1, 2]) {
    await expect(page.getByRole("heading", {name: `Trial ${trial} of 10`})).toBeVisible();
    for (const name of ["B", "A", "X"]) await page.getByRole("radio", {name}).check({force: true});
    await page.getByRole("button", {name: "X is A"}).click();
  }
  // In each trial B was chosen first.
  const sounds = await started();
  expect(sounds).toHaveLength(6);
  const [b, a, x1, b2, a2, x2] = sounds.map(({samples}) => samples);
  expect(new Set(sounds.map(({samples}) => samples.length)).size).toBe(1);
  expect([x1?.every((v, n) => v === b?.[n]), x2?.every((v, n) => v === a?.[n])]).toEqual([true, true]);
  expect([b2?.every((v, n) => v === b?.[n]), a2?.every((v, n) => v === a?.[n])]).toEqual([true, true]);
  expect(a?.every((v, n) => v === b?.[n])).toBe(false);
  const loudnesses = [a, b].map((samples) => integratedLoudness(samples ?? new Float32Array(0), 48_000));
  // Meters to EBU Tech 3341 agree within 0.1 LU.
  expect(Math.abs((loudnesses[0] ?? NaN) - (loudnesses[1] ?? NaN))).toBeLessThan(0.1);
  for (const {samples, waits} of sounds) {
    expect(samples.reduce((most, each) => Math.max(most, Math.abs(each)), 0)).toBeLessThanOrEqual(10 ** (-1 / 20));
    // Seconds ahead, as the loop asks, whatever is played; less the blocks that the device may have gone on meanwhile.
    expect(waits).toBeGreaterThan(0);
    expect(waits).toBeLessThan(0.0151);
  }
});

test("an answer waits until X was heard, a test can be left, and a pair without a difference is refused", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await prepare(page, "lesson=2&C1=470p&trials=12");
  const said = page.locator("blind-test .said");
  await page.getByRole("radio", {name: "B"}).check({force: true});
  await page.getByRole("button", {name: "X is B"}).click();
  await expect(said).toHaveText("Press X first, and listen: it is a fresh one in every trial.");
  await expect(page.getByRole("heading", {name: "Trial 1 of 12"})).toBeVisible();
  await page.getByRole("radio", {name: "X"}).check({force: true});
  await expect(said).toHaveText("");
  await expect(page.locator("blind-test .volume input")).toHaveAttribute("aria-valuetext", "18 decibels below full");
  await page.getByRole("button", {name: "Leave the test"}).click();
  await expect(said).toHaveText("You left the test, so there is no score: half a test shows nothing.");
  await page.goto("listen/#lesson=1&cable=0.5");
  await expect(page.locator("blind-test .differs")).toContainText("Nothing has changed yet");
  await page.getByRole("button", {name: "Prepare the test"}).click();
  await expect(said).toContainText("there is nothing to tell apart", {timeout: 60_000});
  await expect(page.getByRole("button", {name: "Prepare the test"})).toBeFocused();
});

test("a lesson leads to its own blind test and takes the bench along", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("470p");
  await entry.press("Enter");
  await expect(page).toHaveURL(/#C1=470p$/);
  await page.getByRole("link", {name: "Before or now: can you tell them apart blind?"}).click();
  await expect(page).toHaveURL(/listen\/#lesson=2&C1=470p$/);
  await expect(page.getByRole("combobox", {name: "Two sounds"})).toHaveValue("linked");
  await expect(page.locator("blind-test .differs")).toContainText("671");
});

test("a link to a lesson's own test chooses that lesson by its name", async ({page}) => {
  await page.goto("listen/#lesson=1&trials=10");
  const sounds = page.getByRole("combobox", {name: "Two sounds"});
  await expect(sounds).toHaveValue("1");
  await expect(sounds.locator("option:checked")).toHaveText(/^\s*Lesson 1\. /);
  await page.goto("listen/#lesson=1&cable=8&trials=10");
  await expect(sounds.locator("option:checked")).toHaveText("The bench of this link: lesson 1");
});

test("the pair of lesson 10 is told by what clips as well, served and chosen", async ({page}) => {
  await page.goto("listen/");
  const differs = page.locator("blind-test .differs");
  const clipping = /A steady open A goes from .+ of peak at the amplifier, .+ down; its distortion goes from .+\.$/;
  await expect(differs).toHaveText(clipping);
  const choice = page.getByRole("combobox", {name: "Two sounds"});
  await choice.selectOption({label: "Lesson 1. The wire: before and now"});
  await expect(differs).toContainText("cable");
  await expect(differs).not.toContainText("distortion");
  await choice.selectOption({label: "Lesson 10. Two diodes: before and now"});
  await expect(differs).toHaveText(clipping, {timeout: 20_000});
});

test("two answers to one X count once, however fast", async ({page}) => {
  test.setTimeout(120_000);
  await prepare(page, "lesson=2&C1=470p&trials=10");
  await page.getByRole("radio", {name: "X"}).check({force: true});
  await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
  await page.getByRole("button", {name: "X is A"}).dblclick();
  await expect(page.getByRole("heading", {name: "Trial 2 of 10"})).toBeVisible();
  await page.getByRole("button", {name: "X is A"}).dblclick();
  await expect(page.locator("blind-test .said")).toHaveText(
    "Press X first, and listen: it is a fresh one in every trial.",
  );
  await expect(page.getByRole("heading", {name: "Trial 2 of 10"})).toBeVisible();
});

test("in a trial and at its result, on a phone and under /class/, nothing sticks out and axe has no objection", async ({
  page,
  served,
}) => {
  test.setTimeout(180_000);
  await watched(page, "a");
  await page.setViewportSize({width: 390, height: 844});
  await page.goto(new URL("listen/#lesson=2&C1=470p&trials=10", served.underClass).href);
  await expect(page.getByRole("option", {name: /The bench of this link/})).toBeAttached();
  await page.getByRole("button", {name: "Prepare the test"}).click();
  const sound = async () => {
    const {violations} = await new AxeBuilder({page}).include("blind-test").analyze();
    expect(violations.map(({id, nodes}) => `${id}: ${nodes.map(({target}) => target.join(" ")).join(", ")}`)).toEqual(
      [],
    );
    const beyond = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(beyond).toBeLessThanOrEqual(0);
  };
  for (let trial = 1; trial <= 10; trial++) {
    await expect(page.getByRole("heading", {name: `Trial ${trial} of 10`})).toBeVisible({timeout: 60_000});
    if (trial === 1) await sound();
    await page.getByRole("radio", {name: "X"}).check({force: true});
    await expect(page.getByRole("button", {name: "Stop", exact: true})).toBeVisible();
    await page.getByRole("button", {name: "X is B"}).click();
  }
  await expect(page.getByRole("heading", {name: "0 of 10 right: nothing shown either way"})).toBeFocused();
  await expect(page.locator("blind-test .meaning")).toContainText("it has not shown that there is none");
  await sound();
});

test("a link that cannot be read whole says so", async ({page}) => {
  await page.goto("listen/#lesson=2&C1=470p&trials=11");
  await expect(page.locator("blind-test .notice")).toHaveText(
    "Part of this link could not be read and was left out: “trials=11”.",
  );
});
