// In a page that plays: from a control's release to the gain that makes now as loud as before again (mark 300 ms), and the longest
// task of the page's own thread while a file is decoded, loudness measured and whole sounds rendered (mark 50 ms).
import {mkdtempSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {dirname, join} from "node:path";
import type {Page} from "@playwright/test";
import type {BenchPlayerElement} from "../../src/widgets/player/player.element.ts";
import {heldNote, wav} from "../site/wav.ts";
import {withSite} from "./support/site-page.ts";

const [runs, markMilliseconds, markTaskMilliseconds] = [5, 300, 50];

/** Milliseconds from the release of a control that has been dragged for half a second until the last gain is told. */
const matchedAfterDrag = (page: Page, turned: number) =>
  page.evaluate(async (turned) => {
    const {gains} = globalThis as unknown as {gains: {at: number; perVolt: number}[]};
    const slider = document.querySelector<HTMLInputElement>(".bench .controls input[type=range]");
    if (!slider) throw new Error("there is no control to turn");
    const wait = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));
    const [from, to] = [Number(slider.value), turned * Number(slider.max)];
    const move = (share: number) => {
      slider.value = String(Math.round(from + (to - from) * share));
      slider.dispatchEvent(new Event("input", {bubbles: true}));
    };
    for (let step = 1; step <= 30; step++) {
      move(step / 60);
      await wait(16);
    }
    // The last move is a wide one, so that its loudness is another.
    move(1);
    slider.dispatchEvent(new Event("change", {bubbles: true}));
    const released = performance.now();
    await wait(1500);
    const last = gains.findLast(({perVolt}, k) => perVolt !== gains[k - 1]?.perVolt);
    return (last?.at ?? Infinity) - released;
  }, turned);

await withSite("The sound in a page", async (browser, address) => {
  // Nine minutes, from disk, as a reader's file comes: handed over in memory it would be unpacked in the page itself.
  const note = join(mkdtempSync(join(tmpdir(), "sound-in-page-")), "note.wav");
  writeFileSync(note, wav(heldNote(220, 540, 48_000), 48_000));
  const page = await browser.newPage({viewport: {width: 1440, height: 900}});
  await page.addInitScript(() => {
    const gains: {at: number; perVolt: number}[] = [];
    const tasks: number[] = [];
    Object.assign(globalThis, {gains, tasks});
    new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({duration}) => duration))).observe({
      type: "longtask",
    });
    const post = MessagePort.prototype.postMessage as (message: unknown, ...rest: unknown[]) => void;
    MessagePort.prototype.postMessage = function (this: MessagePort, message: unknown, ...rest: unknown[]) {
      const {kind, voice, perVolt} = (message ?? {}) as {kind?: string; voice?: string; perVolt?: number};
      if (kind === "gain" && voice === "now") gains.push({at: performance.now(), perVolt: perVolt ?? NaN});
      post.call(this, message, ...rest);
    } as typeof MessagePort.prototype.postMessage;
  });
  await page.goto(`${address}lessons/10-two-diodes/`);
  await page.getByRole("button", {name: "Carry on without one"}).click();
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await page.getByText(/here/).first().waitFor();
  await page.waitForTimeout(1000);
  const times: number[] = [];
  for (let run = 0; run < runs; run++) times.push(await matchedAfterDrag(page, run % 2 === 0 ? 0.9 : 0.2));
  const median = times.sort((a, b) => a - b)[runs >> 1] ?? Infinity;
  console.log(`figure matched-loudness,-milliseconds-after-a-control's-release ${median.toFixed(0)}`);
  console.log(
    `ratio ${markMilliseconds}-ms-against-matched-loudness ${(markMilliseconds / Math.max(1, median)).toFixed(2)} 1`,
  );

  await page.evaluate(() => void ((globalThis as unknown as {tasks: number[]}).tasks.length = 0));
  await page.locator("bench-player .own > summary").click();
  await page.getByLabel(/sound file from this computer/).setInputFiles(note);
  await page.getByText("Playing “note.wav” through the circuit.").waitFor();
  await page.locator("bench-player").evaluate(async (player) => void (await (player as BenchPlayerElement).renders()));
  await page.waitForTimeout(500);
  // A task that is not long is not told: it counts as half of the mark.
  const longest = await page.evaluate(() => Math.max(25, ...(globalThis as unknown as {tasks: number[]}).tasks));
  console.log(`figure longest-task-while-sound-is-decoded,-measured-and-rendered,-milliseconds ${longest.toFixed(0)}`);
  console.log(
    `ratio ${markTaskMilliseconds}-ms-against-the-longest-task ${(markTaskMilliseconds / longest).toFixed(2)} 1`,
  );
  rmSync(dirname(note), {recursive: true});
});
