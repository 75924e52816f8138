import type {Page} from "@playwright/test";
import {courseCircuit, startSetting} from "../../src/engine/course/course-circuit.ts";
import {liveBench} from "../../src/engine/realtime/live-bench.ts";
import {voiceCircuit} from "../../src/engine/realtime/voice-circuit.ts";
import {limiter} from "../../src/engine/sound/limiter.ts";
import {loudspeakerFilters} from "../../src/engine/sound/loudspeaker.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {switchedFilter} from "../../src/engine/sound/switched-filter.ts";
import {countContexts} from "./count-contexts.ts";
import {firstSound, watchFirstSound} from "./first-sound.ts";
import {openLesson} from "./open-lesson.ts";
import {renderedThere, worklet} from "./rendered-there.ts";
import {expect, test} from "./site.ts";

const rateHz = 48_000;
const seconds = 0.5;

for (const lesson of [2, 20]) {
  test(`the sound thread plays lesson ${lesson} as the engine has it, sample for sample`, async ({page, baseURL}) => {
    test.setTimeout(120_000);
    await page.goto("about/safety/");
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(startSetting(lesson));
    const voice = voiceCircuit(circuit, listenAt, phrasePeakVolts, rateHz);
    const sound = phraseSamples("riff", rateHz).subarray(0, rateHz);
    const perVolt = 2;
    const heard = await renderedThere(page, new URL(worklet(), baseURL).href, voice, sound, {
      perVolt,
      rateHz,
      length: seconds * rateHz,
    });

    const bench = liveBench<string>(rateHz);
    const {run: throughSpeaker} = switchedFilter(loudspeakerFilters(rateHz), 480);
    const {run} = limiter(rateHz);
    bench.loop(sound);
    bench.set("now", voice);
    bench.hear("now");
    bench.gain("now", perVolt);
    const block = new Float32Array(128);
    let [worst, peak] = [0, 0];
    for (let n = 0; n < heard.length; n++) {
      if (n % 128 === 0) {
        bench.process(block);
        throughSpeaker(block);
        run(block);
      }
      worst = Math.max(worst, Math.abs((heard[n] ?? NaN) - (block[n % 128] ?? NaN)));
      peak = Math.max(peak, Math.abs(heard[n] ?? NaN));
    }
    expect(peak).toBeGreaterThan(0.1);
    // Of full scale: 120 dB under it.
    expect(worst).toBeLessThan(1e-6);
  });
}

/** Notes the workers that a page starts. Call it before the page is opened; what it returns gives their addresses. */
async function watchWorkers(page: Page): Promise<() => Promise<string[]>> {
  await page.addInitScript(() => {
    const workers: string[] = [];
    Object.assign(globalThis, {workers});
    const Original = Worker;
    globalThis.Worker = class extends Original {
      constructor(address: string | URL, options?: WorkerOptions) {
        super(address, options);
        workers.push(String(address));
      }
    };
  });
  return () => page.evaluate(() => (globalThis as unknown as {workers: string[]}).workers);
}

test("a page just loaded plays at the matched level with nothing measured first", async ({page}) => {
  const workers = await watchWorkers(page);
  await watchFirstSound(page);
  await openLesson(page, "10-two-diodes");
  await page.getByRole("button", {name: "Play"}).click();
  await firstSound(page);
  await expect(page.locator("bench-player .said")).toHaveText(/quieter here|quietest here/);
  expect((await workers()).filter((address) => address.includes("sound.worker"))).toHaveLength(1);
  expect((await workers()).filter((address) => address.includes("render.worker"))).toEqual([]);
});

test("a bench that comes by a link is measured before anybody presses, and nothing sounds", async ({page}) => {
  const [workers, contexts] = [await watchWorkers(page), await countContexts(page)];
  await page.goto("lessons/02-in-the-way/#C1=470p");
  await expect.poll(async () => (await workers()).some((address) => address.includes("render.worker"))).toBe(true);
  expect(await contexts()).toEqual([]);
});

/** Holds back what a page asks of its measuring workers, or the program of its sound thread. What it returns lets it go. */
async function holdBack(page: Page, what: "measuring" | "sound thread"): Promise<() => Promise<void>> {
  await page.addInitScript((what) => {
    const released = new Promise<void>((resolve) => Object.assign(globalThis, {release: resolve}));
    if (what === "measuring") {
      const Original = Worker;
      globalThis.Worker = class extends Original {
        constructor(address: string | URL, options?: WorkerOptions) {
          super(address, options);
          const post = this.postMessage.bind(this) as (message: unknown) => void;
          if (String(address).includes("render.worker"))
            this.postMessage = (message: unknown) => void released.then(() => post(message));
        }
      };
    } else {
      const {addModule} = AudioWorklet.prototype;
      AudioWorklet.prototype.addModule = async function (address) {
        await released;
        return addModule.call(this, address);
      };
    }
  }, what);
  return () => page.evaluate(() => (globalThis as unknown as {release: () => void}).release());
}

test("one that is played at once sounds before it has been measured in full", async ({page}) => {
  await watchFirstSound(page);
  const goOn = await holdBack(page, "measuring");
  await page.goto("lessons/02-in-the-way/#C1=470p");
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await firstSound(page);
  const said = page.locator("bench-player .said");
  expect(await said.textContent()).not.toMatch(/quieter|quietest/);
  await goOn();
  await page.getByRole("radio", {name: "wire"}).check();
  await expect(said).toHaveText(/The wire is played .* quieter here/);
});

test("stopped before it has begun, nothing sounds", async ({page}) => {
  await watchFirstSound(page);
  const goOn = await holdBack(page, "sound thread");
  await openLesson(page, "02-in-the-way");
  const play = page.getByRole("button", {name: "Play", exact: true});
  await play.click();
  await page.getByRole("button", {name: "Stop"}).click();
  await goOn();
  await expect(play).toBeVisible();
  // Longer than any first sound takes; where none comes there is nothing else to wait for.
  await page.waitForTimeout(1500);
  expect(await page.evaluate(() => "sounded" in (globalThis as unknown as {times: object}).times)).toBe(false);
  await play.click();
  await firstSound(page);
});

test("while it plays, a control is heard at once and the loudness follows", async ({page}) => {
  test.setTimeout(120_000);
  await openLesson(page, "02-in-the-way");
  await page.getByRole("button", {name: "Play"}).click();
  const said = page.locator("bench-player .said");
  await expect(said).toHaveText(/quietest here|quieter here/, {timeout: 60_000});
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("470p");
  await entry.press("Enter");
  await page.getByRole("radio", {name: "wire"}).check();
  await expect(said).toHaveText(/The wire is played (?!0\.)\d+(\.\d+)?\s?dB quieter here/, {timeout: 60_000});
});

test("the slow sweep is heard and the reading cursor goes with it", async ({page}) => {
  test.setTimeout(120_000);
  await openLesson(page, "02-in-the-way");
  await page.getByText("In and out").click();
  await page.getByRole("combobox", {name: "Phrase"}).selectOption({label: "slow sweep, to hear the curve"});
  await page.getByRole("button", {name: "Play", exact: true}).click();
  const reading = async () => {
    const words = (await page.locator("response-plot output").textContent()) ?? "";
    const [, number = "NaN", unit] = /^([\d.]+)\s?(k?)Hz/.exec(words) ?? [];
    return Number(number) * (unit === "k" ? 1000 : 1);
  };
  await expect(page.locator(".response-drawing.wide .cursor-line")).toBeVisible({timeout: 60_000});
  await expect.poll(reading, {timeout: 60_000}).toBeGreaterThan(40);
  const early = await reading();
  await expect.poll(reading, {timeout: 60_000}).toBeGreaterThan(1.5 * early);
  await page.getByRole("button", {name: "Stop"}).click();
  await expect(page.locator(".response-drawing.wide .cursor-line")).toBeHidden();
});
